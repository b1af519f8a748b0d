package lsp

import (
	"context"
	"os"
	"path/filepath"
	"slices"

	"gridferry/gen/version"
)

// begin has a subject worked on anew. Work that is under way is given up: so there is never more than one, and its texts are
// the last ones.
func (s *Server) begin(one *subject) {
	one.stale = true
	if one.cancel != nil {
		one.cancel()
	}
	if !one.running {
		one.running = true
		go s.run(one)
	}
}

// run works on a subject until it is settled.
func (s *Server) run(one *subject) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for one.stale && !one.gone {
		one.stale = false
		ctx, cancel := context.WithCancel(context.Background())
		one.cancel = cancel
		drafts, last := s.drafts(), one.last
		s.mu.Unlock()
		s.turns <- struct{}{}
		names, next := s.look(ctx, one.what, drafts, last)
		<-s.turns
		s.mu.Lock()
		if ctx.Err() == nil {
			one.names, one.last = names, next
			one.found = s.reporter(one.path, drafts, next.work).all(next.work.Findings)
		}
		cancel()
	}
	one.running = false
	s.choose()
	close(s.settled)
	s.settled = make(chan struct{})
	s.publish()
}

// look reads a subject and works on it. Texts that are as they were are not worked on again.
func (s *Server) look(ctx context.Context, is what, drafts map[string]string, last *looked) (names []string, next *looked) {
	if is.kind == aFamily {
		return []string{}, s.lookAtFamily(ctx, is.path, drafts)
	}
	texts, err := version.Open(filepath.FromSlash(is.path), drafts)
	if err != nil {
		return []string{}, &looked{work: &Work{}} // neither open nor there any more
	}
	read := s.flow.Plan
	if is.kind == aCell {
		read = s.flow.Cell
	}
	job := read(texts.Source())
	next = &looked{digest: texts.Digest(), job: job}
	if last != nil && last.digest == next.digest {
		next = last
	} else if ctx.Err() == nil {
		next.work = job.Work(ctx)
	}
	return texts.Names(), next
}

// mostBeside is how many plans beside a file are looked at.
const mostBeside = 16

// plansBeside is the plans in a file's folder that name it.
func (s *Server) plansBeside(file string) []string {
	entries, _ := os.ReadDir(filepath.FromSlash(folderOf(file))) // there may be no such folder yet
	var plans []string
	for _, e := range entries {
		name := inFolder(folderOf(file), e.Name())
		if !isPlan(name) || len(plans) == mostBeside {
			continue
		}
		texts, err := version.Open(filepath.FromSlash(name), s.drafts())
		if err != nil {
			continue
		}
		if s.flow.Plan(texts.Source()); slices.Contains(texts.Names(), file) {
			plans = append(plans, name)
		}
	}
	return plans
}

// wait gives a subject once it is settled; nil where there is none of that name any more.
func (s *Server) wait(ctx context.Context, is what) (*looked, error) {
	for {
		s.mu.Lock()
		one, settled := s.subjects[is], s.settled
		if one == nil || one.settledNow() {
			defer s.mu.Unlock()
			if one == nil {
				return nil, nil
			}
			return one.last, nil
		}
		s.mu.Unlock()
		select {
		case <-settled:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}
