package live

import (
	"context"
	"fmt"
	"testing"
	"time"

	"gridferry/plan/diag"
)

// slow is a job whose work goes on until it is let go or given up.
type slow struct {
	Job
	began, letGo, gaveUp chan struct{}
	scene                []byte
}

func newSlow() *slow {
	return &slow{began: make(chan struct{}), letGo: make(chan struct{}), gaveUp: make(chan struct{})}
}

func (s *slow) Work(ctx context.Context) *Work {
	close(s.began)
	select {
	case <-s.letGo:
	case <-ctx.Done():
		close(s.gaveUp)
	}
	return &Work{Sources: new(diag.Sources), Scene: s.scene}
}

// soon waits for something.
func soon(t *testing.T, what string, c <-chan struct{}) {
	t.Helper()
	select {
	case <-c:
	case <-time.After(10 * time.Second):
		t.Fatal(what + " does not happen")
	}
}

// asked asks for a result, and gives what stops asking and what comes of it.
func asked(r *results, g *reading) (stop func(), got chan error) {
	ctx, cancel := context.WithCancel(context.Background())
	got = make(chan error, 1)
	go func() {
		_, err := r.of(ctx, g)
		got <- err
	}()
	return cancel, got
}

// TestSupersededWork: work goes on as long as somebody waits for it, and no longer; who asks later begins it anew.
func TestSupersededWork(t *testing.T) {
	r, job := newResults(), newSlow()
	g := &reading{version: "1", job: job}
	stopOne, one := asked(r, g)
	soon(t, "the work", job.began)
	stopTwo, two := asked(r, g)
	for waiting := 0; waiting < 2; time.Sleep(time.Millisecond) { // until both wait
		r.mu.Lock()
		waiting = r.kept[0].waiting
		r.mu.Unlock()
	}
	stopOne()
	if err := <-one; err == nil {
		t.Error("who asks no more gets an answer")
	}
	select {
	case <-job.gaveUp:
		t.Fatal("work is given up that somebody waits for")
	case <-time.After(50 * time.Millisecond):
	}
	stopTwo()
	soon(t, "giving up", job.gaveUp)
	if <-two; r.find("1") != nil || len(r.all()) != 0 {
		t.Error("what was given up is kept")
	}
	again := newSlow()
	close(again.letGo)
	if got, err := r.of(context.Background(), &reading{version: "1", job: again}); err != nil || got.work == nil || r.find("1") != got {
		t.Error(got, err)
	}
}

// TestTurns: only so many jobs are worked on at once; one that waits for its turn can be given up, too.
func TestTurns(t *testing.T) {
	r := newResults()
	var first []*slow
	for i := range atOnce {
		job := newSlow()
		first = append(first, job)
		asked(r, &reading{version: fmt.Sprint(i), job: job})
		soon(t, "the work", job.began)
	}
	waits, next := newSlow(), newSlow()
	stop, got := asked(r, &reading{version: "waits", job: waits})
	_, last := asked(r, &reading{version: "next", job: next})
	stop()
	<-got
	close(first[0].letGo)
	soon(t, "the next one's turn", next.began)
	select {
	case <-waits.began:
		t.Error("work begins that nobody wants")
	default:
	}
	close(next.letGo)
	close(first[1].letGo)
	if err := <-last; err != nil {
		t.Error(err)
	}
}

// TestKept: the last results are kept, the one that was asked for last the longest, and not more than have room.
func TestKept(t *testing.T) {
	r := newResults()
	get := func(version string, size int) {
		job := newSlow()
		job.scene = make([]byte, size)
		close(job.letGo)
		if _, err := r.of(context.Background(), &reading{version: version, job: job}); err != nil {
			t.Fatal(err)
		}
	}
	for i := range 3 * mostKept {
		get(fmt.Sprint(i), 1)
		get("0", 1)
	}
	if r.find("0") == nil || r.find("1") != nil || len(r.all()) != mostKept {
		t.Errorf("%d are kept", len(r.all()))
	}
	get("large", mostBytes+1)
	if all := r.all(); len(all) != 1 || all[0].version != "large" {
		t.Errorf("%d are kept", len(all))
	}
}
