package live

import (
	"context"
	"sync"
	"time"
)

const (
	settle   = 20 * time.Millisecond  // without a change, before files are read: an editor may be half way through
	longest  = 120 * time.Millisecond // that this is waited for, however much changes
	patience = 250 * time.Millisecond // with a file that is gone: an editor may be about to write it anew
	glance   = 2 * time.Second        // between two looks at files of which nothing was heard
)

// present is what the disk says now.
type present struct {
	result *result // of the last reading
	good   *result // the last one with a scene
	gone   error   // why the plan cannot be read; nil where it can
}

// follower keeps the present up to date.
type follower struct {
	reads   reads
	results *results
	pages   *pages
	poke    chan struct{} // asks for a look at once

	mu  sync.Mutex
	now present
}

func (f *follower) present() present {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.now
}

// change changes the present and tells the pages.
func (f *follower) change(to func(*present)) {
	f.mu.Lock()
	to(&f.now)
	f.mu.Unlock()
	f.pages.wake()
}

// begin reads the plan for the first time.
func (f *follower) begin(ctx context.Context) error {
	g, err := f.reads.of(nil)
	if err != nil {
		return err
	}
	r, err := f.results.of(ctx, g)
	if err != nil {
		return err
	}
	f.show(r)
	return nil
}

// show makes a result the present one.
func (f *follower) show(r *result) {
	f.change(func(p *present) {
		p.result, p.gone = r, nil
		if r.work.Scene != nil {
			p.good = r
		}
	})
}

// run follows the files until ctx is done.
func (f *follower) run(ctx context.Context, w *watch) {
	l := look{follower: f, watch: w, shown: make(chan *result), due: time.NewTimer(0)}
	defer l.give()
	tick := time.NewTicker(glance)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-w.Events:
			if w.concerns(e) {
				l.soon()
			}
		case <-w.Errors: // events were lost
			l.soon()
		case <-tick.C:
			if w.changed() {
				l.soon()
			}
		case <-f.poke:
			l.now(ctx)
		case <-l.due.C:
			l.now(ctx)
		case r := <-l.shown:
			if l.cancel != nil && l.work == r.version { // and was not given up this moment
				l.give()
				f.show(r)
			}
		}
	}
}

// look is the follower's looking at the files.
type look struct {
	*follower
	*watch
	due   *time.Timer
	first time.Time // of the changes that are not looked at yet
	lost  time.Time // since when a file is missing; zero for none

	shown  chan *result       // results of the work
	cancel context.CancelFunc // ends the work that is under way; nil for none
	work   string             // its version
}

// soon has the files looked at when they have settled.
func (l *look) soon() {
	now := time.Now()
	if l.first.IsZero() {
		l.first = now
	}
	l.due.Reset(min(settle, max(0, l.first.Add(longest).Sub(now))))
}

// now looks at the files.
func (l *look) now(ctx context.Context) {
	l.first = time.Time{}
	before := l.present()
	g, err := l.reads.of(nil)
	if missing := err != nil || g.Lost(before.result.Version); !missing {
		l.lost = time.Time{}
	} else if l.lost.IsZero() || time.Since(l.lost) < patience {
		if l.lost.IsZero() {
			l.lost = time.Now()
		}
		l.due.Reset(patience)
		return
	}
	if err != nil {
		l.give()
		l.watch.follow(before.result.Names())
		l.change(func(p *present) { p.gone = err })
		return
	}
	if l.watch.follow(g.Names()) {
		defer l.soon()
	}
	switch {
	case g.version != before.result.version:
		l.begin(ctx, g)
	case before.gone != nil:
		l.give()
		l.show(before.result)
	default:
		l.give()
	}
}

// begin works a reading out, beside the look; what was under way is out of date.
func (l *look) begin(ctx context.Context, g *reading) {
	if l.cancel != nil && l.work == g.version {
		return
	}
	l.give()
	ctx, l.cancel = context.WithCancel(ctx)
	l.work = g.version
	go func() {
		r, err := l.results.of(ctx, g)
		if err != nil {
			return
		}
		select {
		case l.shown <- r:
		case <-ctx.Done():
		}
	}()
}

// give gives up the work that is under way.
func (l *look) give() {
	if l.cancel != nil {
		l.cancel()
		l.cancel = nil
	}
}
