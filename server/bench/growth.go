package main

import (
	"errors"
	"math/rand/v2"
	"net/http"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/summary"
)

const (
	askFixtures = 200 // questions about one fixture
	askHomes    = 50
	someSlices  = 200
)

// growth tells how start, memory, pulls and answers grow with what one site holds.
func growth(p plan, say func(string, ...any)) error {
	for _, size := range p.sizes {
		err := with(p, 1, size, func(w *world, s *server) error {
			g := &grown{client: newClient(s.url(), w.phones[0].token), world: w, server: s, chance: rand.New(rand.NewPCG(1, uint64(size))), say: say}
			return errors.Join(g.begin(), g.questions(), g.pulls(), g.news())
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// grown is one size's measurement.
type grown struct {
	*client
	*world
	*server
	chance *rand.Rand
	say    func(string, ...any)
}

// begin is the start, and the first question after it, which reads all.
func (g *grown) begin() error {
	before, _, err := g.memory()
	if err != nil {
		return err
	}
	first, err := g.times(1, func() error { return g.home() })
	if err != nil {
		return err
	}
	after, mapped, err := g.memory()
	if err != nil {
		return err
	}
	g.say("%d events, %d fixtures: start %s with %.0f MB; first question %s, then %.0f MB (%.0f bytes an event), and %.0f MB of the store mapped", g.held,
		len(g.fixtures), ms(g.took), before, ms(first[0]), after, (after-before)*(1<<20)/float64(g.held), mapped)
	return nil
}

func (g *grown) home() error {
	_, err := g.question("home", summary.HomeQuestion{})
	return err
}

func (g *grown) anyFixture() error {
	_, err := g.question("fixture", summary.FixtureQuestion{ID: g.fixtures[g.chance.IntN(len(g.fixtures))].id})
	return err
}

// times asks so often.
func (g *grown) times(n int, ask func() error) ([]time.Duration, error) {
	var all []time.Duration
	for range n {
		began := time.Now()
		if err := ask(); err != nil {
			return nil, err
		}
		all = append(all, time.Since(began))
	}
	return all, nil
}

func (g *grown) questions() error {
	fixtures, err := g.times(askFixtures, g.anyFixture)
	if err != nil {
		return err
	}
	homes, err := g.times(askHomes, g.home)
	if err != nil {
		return err
	}
	g.say("%d events: a fixture p50 %s, p99 %s; home p50 %s, p99 %s", g.held, ms(share(fixtures, 0.5)), ms(share(fixtures, 0.99)),
		ms(share(homes, 0.5)), ms(share(homes, 0.99)))
	return nil
}

// pulls are slices from all over the feed.
func (g *grown) pulls() error {
	all, err := g.pull(g.site, false)
	if err != nil {
		return err
	}
	slices, err := g.times(someSlices, func() error {
		_, err := g.slice(g.site, all.cursors[g.chance.IntN(len(all.cursors))], true)
		return err
	})
	if err != nil {
		return err
	}
	g.say("%d events: a slice of everything p50 %s, p99 %s; a filtered pull from anywhere p50 %s, p99 %s; the whole feed %s", g.held,
		ms(share(all.slices, 0.5)), ms(share(all.slices, 0.99)), ms(share(slices, 0.5)), ms(share(slices, 0.99)), ms(all.wall))
	return nil
}

// news are questions right after another event came in.
func (g *grown) news() error {
	a, err := newAuthor(g.world, g.phones[0].person, 2)
	if err != nil {
		return err
	}
	if err := g.meet(a.log.ID()); err != nil {
		return err
	}
	var after []time.Duration
	for range askHomes {
		lines, err := a.some(1)
		if err != nil {
			return err
		}
		body := exchange.Batch{Lines: lines}.Body()
		if _, err := g.ask(exchange.Request{Method: http.MethodPost, Path: exchange.PathPush, Type: "application/x-ndjson", Body: body}, false); err != nil {
			return err
		}
		home, err := g.times(1, g.home)
		if err != nil {
			return err
		}
		after = append(after, home...)
	}
	g.say("%d events: home after one more event p50 %s, p99 %s", g.held, ms(share(after, 0.5)), ms(share(after, 0.99)))
	return nil
}
