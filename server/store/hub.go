package store

import "sync"

// Hub is a Watch for the implementations of Events to tell by. The zero Hub is ready.
type Hub struct {
	mu     sync.Mutex
	subs   map[*subscription]bool
	closed bool
}

// subscription passes on what its reader has not taken yet: of each site the last word only.
type subscription struct {
	sites   map[string]bool
	pending map[string]uint64 // guarded by the hub's mu
	wake    chan struct{}     // holds one: there is something pending
	stop    chan struct{}
}

// Subscribe tells of the sites named, as Watch says.
func (h *Hub) Subscribe(sites ...string) (<-chan Changed, func()) {
	s := &subscription{sites: map[string]bool{}, pending: map[string]uint64{}, wake: make(chan struct{}, 1), stop: make(chan struct{})}
	for _, site := range sites {
		s.sites[site] = true
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.subs == nil {
		h.subs = map[*subscription]bool{}
	}
	h.subs[s] = true
	if h.closed {
		h.end(s)
	}
	out := make(chan Changed)
	go h.pass(s, out)
	return out, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		h.end(s)
	}
}

// end stops a subscription once. It needs mu.
func (h *Hub) end(s *subscription) {
	if h.subs[s] {
		delete(h.subs, s)
		close(s.stop)
	}
}

// Tell tells all who subscribed to a site. It never waits for a reader.
func (h *Hub) Tell(changes ...Changed) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for s := range h.subs {
		for _, c := range changes {
			if s.sites[c.Site] {
				s.pending[c.Site] = max(s.pending[c.Site], c.N)
			}
		}
		if len(s.pending) > 0 {
			s.rouse()
		}
	}
}

func (s *subscription) rouse() {
	select {
	case s.wake <- struct{}{}:
	default: // it will look anyway
	}
}

// Close ends all subscriptions, later ones too.
func (h *Hub) Close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.closed = true
	for s := range h.subs {
		h.end(s)
	}
}

// pass hands a subscription's changes to its reader until it ends.
func (h *Hub) pass(s *subscription, out chan<- Changed) {
	defer close(out)
	for {
		select {
		case <-s.stop:
			return
		case <-s.wake:
		}
		for next, some := h.take(s); some; next, some = h.take(s) {
			select {
			case <-s.stop:
				return
			case out <- next:
			}
		}
	}
}

// take takes one pending change out.
func (h *Hub) take(s *subscription) (Changed, bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for site, n := range s.pending {
		delete(s.pending, site)
		return Changed{Site: site, N: n}, true
	}
	return Changed{}, false
}
