package gen

import (
	"iter"
	"runtime"
	"sync/atomic"
)

// fillCores reports whether so many pieces of work keep every core busy, so that none of them needs several.
func fillCores(n int) bool { return n >= runtime.GOMAXPROCS(0) }

// SideBySide does n pieces of work on every core, one on each.
func SideBySide[T any](n int, work func(i int) T) iter.Seq[T] {
	return sideBySide(n, runtime.GOMAXPROCS(0), work)
}

// sideBySide does n pieces of work, so many at once. Their results come in order, each as soon as
// those before it have come. Work that nobody waits for any more is not begun.
func sideBySide[T any](n, atOnce int, work func(i int) T) iter.Seq[T] {
	return func(yield func(T) bool) {
		done := make([]chan T, n)
		for i := range done {
			done[i] = make(chan T, 1)
		}
		var next atomic.Int64
		for range min(atOnce, n) {
			go func() {
				for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
					done[i] <- work(i)
				}
			}()
		}
		for i := range done {
			if !yield(<-done[i]) {
				next.Store(int64(n))
				return
			}
		}
	}
}
