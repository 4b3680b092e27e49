package bolt

import (
	"errors"
	"sync"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

// gatherMost bounds how many waiting pushes go into one transaction.
const gatherMost = 256

// push is one call of Add on its way.
type push struct {
	items    []exchange.Incoming
	verdicts []exchange.Verdict
	err      error
	done     chan struct{}
}

// gather is the one writer. While it commits, others wait; all that wait go into its next transaction. A
// lone writer waits for nobody.
type gather struct {
	pushes chan *push
	commit func([]*push) error
	mu     sync.RWMutex // held for reading while a push is on its way
	closed bool
	ended  chan struct{}
}

func (g *gather) init(commit func([]*push) error) {
	g.pushes, g.commit, g.ended = make(chan *push), commit, make(chan struct{})
	go g.run()
}

// Add hands items to the writer and waits for them to be on disk.
func (g *gather) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	g.mu.RLock()
	defer g.mu.RUnlock()
	if g.closed {
		return nil, &store.Fault{Code: store.CodeClosed}
	}
	p := &push{items: items, done: make(chan struct{})}
	g.pushes <- p
	<-p.done
	if p.err != nil {
		return nil, p.err
	}
	return p.verdicts, nil
}

// close waits for pushes on their way and ends the writer.
func (g *gather) close() {
	g.mu.Lock()
	defer g.mu.Unlock()
	if !g.closed {
		g.closed = true
		close(g.pushes)
		<-g.ended
	}
}

func (g *gather) run() {
	defer close(g.ended)
	for p := range g.pushes {
		group := g.waiting([]*push{p})
		g.write(group)
		for _, p := range group {
			close(p.done)
		}
	}
}

// waiting adds those that wait now.
func (g *gather) waiting(group []*push) []*push {
	for len(group) < gatherMost {
		select {
		case p, open := <-g.pushes:
			if !open {
				return group
			}
			group = append(group, p)
		default:
			return group
		}
	}
	return group
}

// write commits a group. When that fails each push is tried alone, so that none fails for another's sake.
func (g *gather) write(group []*push) {
	err := g.try(group)
	if err == nil || len(group) == 1 {
		group[0].err = err
		return
	}
	for _, p := range group {
		p.err = g.try([]*push{p})
	}
}

// try never lets the writer die: those who wait for it would wait for ever.
func (g *gather) try(group []*push) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = &store.Fault{Code: store.CodeBroken, Cause: errors.New("the writer panicked")}
		}
	}()
	return g.commit(group)
}
