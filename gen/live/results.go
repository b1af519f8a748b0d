package live

import (
	"context"
	"slices"
	"sync"
)

const (
	mostKept  = 8         // results
	mostBytes = 256 << 20 // of their scenes
	atOnce    = 2         // jobs that are worked on; others wait for their turn
)

// results are what came of the last readings, each worked out once, whoever asks for it and however often.
type results struct {
	turns chan struct{} // taken by whoever works

	mu   sync.Mutex
	kept []*result // the last that was asked for stands last
}

// result is what comes of a reading.
type result struct {
	*reading
	done chan struct{} // closed when work is there, or was given up
	work *Work         // nil where it was given up

	findings []finding // of the work, as pages get them

	cancel  context.CancelFunc
	waiting int // how many wait for it; nobody: it is given up
}

func newResults() *results { return &results{turns: make(chan struct{}, atOnce)} }

// of is the result of a reading. It waits for it no longer than ctx lasts; work that nobody waits for is given up.
func (r *results) of(ctx context.Context, g *reading) (*result, error) {
	one := r.enter(g)
	defer r.leave(one)
	select {
	case <-one.done:
		return one, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// kept is a result that was worked out; nil where it is not kept.
func (r *results) find(version string) *result {
	r.mu.Lock()
	defer r.mu.Unlock()
	i := slices.IndexFunc(r.kept, func(one *result) bool { return one.version == version && one.isDone() })
	if i < 0 {
		return nil
	}
	return r.kept[i]
}

// all are the results that are kept and done.
func (r *results) all() []*result {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(r.kept), func(one *result) bool { return !one.isDone() })
}

func (one *result) isDone() bool {
	select {
	case <-one.done:
		return true
	default:
		return false
	}
}

// enter joins those who wait for a reading's result, and begins the work if there is none.
func (r *results) enter(g *reading) *result {
	r.mu.Lock()
	defer r.mu.Unlock()
	i := slices.IndexFunc(r.kept, func(one *result) bool { return one.version == g.version })
	if i >= 0 {
		one := r.kept[i]
		one.waiting++
		r.kept = append(slices.Delete(r.kept, i, i+1), one)
		return one
	}
	ctx, cancel := context.WithCancel(context.Background())
	one := &result{reading: g, done: make(chan struct{}), cancel: cancel, waiting: 1}
	r.kept = append(r.kept, one)
	go r.run(ctx, one)
	return one
}

// leave ends one's waiting.
func (r *results) leave(one *result) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if one.waiting--; one.waiting == 0 && !one.isDone() {
		one.cancel()
		r.drop(one)
	}
}

func (r *results) run(ctx context.Context, one *result) {
	defer one.cancel()
	var work *Work
	if r.turn(ctx) {
		work = one.job.Work(ctx)
		<-r.turns
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if ctx.Err() == nil {
		one.work, one.findings = work, findingsOf(work)
	} else {
		r.drop(one)
	}
	close(one.done)
	r.bound()
}

// turn waits for a turn to work; false where nobody wants the work any more.
func (r *results) turn(ctx context.Context) bool {
	select {
	case r.turns <- struct{}{}:
	case <-ctx.Done():
		return false
	}
	if ctx.Err() != nil { // that very moment
		<-r.turns
		return false
	}
	return true
}

// drop forgets a result.
func (r *results) drop(one *result) {
	r.kept = slices.DeleteFunc(r.kept, func(k *result) bool { return k == one })
}

// bound forgets the oldest results that are done, as long as there are too many or too large ones.
func (r *results) bound() {
	bytes := 0
	for _, one := range r.kept {
		if one.work != nil {
			bytes += len(one.work.Scene)
		}
	}
	for i := 0; i < len(r.kept)-1 && (len(r.kept) > mostKept || bytes > mostBytes); {
		one := r.kept[i]
		if !one.isDone() {
			i++
			continue
		}
		bytes -= len(one.work.Scene)
		r.drop(one)
	}
}
