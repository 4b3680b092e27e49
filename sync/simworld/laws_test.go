package simworld

import (
	"maps"
	"slices"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// The laws that hold at every moment.

// sentIsTrue: what a phone does not count as unsent is at the server, whatever came of it there, except between a restore
// and the phone's next comparison with the store.
func (w *world) sentIsTrue(h *handset) {
	if h.behind() {
		return
	}
	unsent := map[string]bool{}
	for after, more := 0, true; more; after += exchange.MaxBatch {
		lines, rest, err := h.phone.Export(after)
		if err != nil {
			return // it cannot read its files now, and says so elsewhere
		}
		for _, line := range lines {
			unsent[journal.Hash(line)] = true
		}
		more = rest
	}
	if n := h.phone.Standing().Unsent; n != len(unsent) {
		w.broken("%s says %d unsent and exports %d", h.name, n, len(unsent))
	}
	_ = h.pool.Log().Each(func(line journal.Line) bool {
		if hash := journal.Hash(line); !unsent[hash] && !w.server.mirror.has[hash] {
			w.broken("%s counts as sent what the server does not have: %.120s", h.name, line)
		}
		return true
	})
	w.picturesSent(h)
}

// picturesSent: a picture that is confirmed is whole at the server, byte for byte, unless it was taken back since, which the
// phone is yet to hear.
func (w *world) picturesSent(h *handset) {
	for _, p := range h.pool.Pictures().List() {
		if p.Confirmed && !w.server.whole(p.Hash) && !w.unheard(h, p.Hash) {
			w.broken("%s counts as sent the picture %.8s, which the server does not have", h.name, p.Hash)
		}
	}
}

// recycledWell: what a phone gives back of its own log is in its feeds, as long as it holds the site.
func (w *world) recycledWell(h *handset) {
	held := h.storage()
	for _, s := range w.truth.order {
		if s.home == h && !s.leaving && !s.excused && !held[s.hash] {
			w.broken("%s gave back %s/%d, and its feeds do not have it", h.name, s.log, s.seq)
		}
	}
}

// The laws that hold when all is quiet.

func (w *world) holdLaws() {
	m := w.server.mirror
	w.grown(m)
	for _, s := range w.truth.order {
		// A revoked phone has one route left, which may take what it holds and tells it nothing of a restored server: what is
		// not at the server is on that phone.
		if !s.excused && !m.has[s.hash] && !w.onRevoked(s.home, s.hash) {
			w.broken("lost: %s/%d, saved on %s", s.log, s.seq, s.home.name)
		}
	}
	w.holdPictures()
	w.dense()
	w.movesWhole()
	digests := map[string]string{}
	for _, site := range w.sites {
		w.once(site, m.feeds[site])
		digests[site] = w.digest(w.siteLines(site))
	}
	for _, h := range w.phones {
		w.holdPhone(h, digests)
	}
}

func (w *world) onRevoked(h *handset, hash string) bool {
	return w.server.revoked[h.device] && h.storage()[hash]
}

// grown: history only grows. The feeds read again from their beginning are what was seen as they grew.
func (w *world) grown(m *mirror) {
	again := newMirror(m.events)
	again.follow(w)
	if !maps.EqualFunc(m.feeds, again.feeds, slices.Equal) || !maps.Equal(m.has, again.has) {
		w.broken("a feed is not what was seen of it before")
	}
}

// once: no event stands in a feed twice.
func (w *world) once(site string, feed []string) {
	seen := map[string]bool{}
	for _, hash := range feed {
		if seen[hash] {
			w.broken("%.8s stands twice in the feed of %s", hash, site)
		}
		seen[hash] = true
	}
}

// dense: of every log the server has all from 1 on, but for what was lost with the storage that held it.
func (w *world) dense() {
	top, excused := map[string]uint64{}, map[string]map[uint64]bool{}
	for _, s := range w.truth.order {
		top[s.log] = max(top[s.log], s.seq)
		if excused[s.log] == nil {
			excused[s.log] = map[uint64]bool{}
		}
		excused[s.log][s.seq] = excused[s.log][s.seq] || s.excused || !w.server.mirror.has[s.hash]
	}
	for _, log := range slices.Sorted(maps.Keys(top)) {
		upto := must(w.server.vault.events.Upto(log))
		for seq := uint64(1); seq <= top[log]; seq++ {
			known, some := excused[log][seq]
			spoilt := w.truth.spoilt[log+"/"+uintText(seq)]
			known = known || spoilt
			switch {
			case !some && !spoilt:
				w.broken("%s has no %d, and goes on to %d", log, seq, top[log])
			case seq == upto+1 && !known:
				w.broken("the server's frontier of %s stops at %d", log, upto)
			}
		}
	}
}

// movesWhole: an event stands in the feed of its own site, and where its fixture is now stands its whole past.
func (w *world) movesWhole() {
	in := map[string]map[string]bool{}
	for site, feed := range w.server.mirror.feeds {
		in[site] = map[string]bool{}
		for _, hash := range feed {
			in[site][hash] = true
		}
	}
	for _, fixture := range w.things.fixtures {
		present := ""
		all := must(w.server.vault.events.Fixture(fixture.id))
		for _, pair := range all {
			e := w.event(pair.Line)
			if judged := must(w.server.judge(e)); judged.To != "" {
				present = judged.To
			}
			if !in[e.About.Site][journal.Hash(pair.Line)] {
				w.broken("%s/%d is not in the feed of its site", e.Log, e.Seq)
			}
		}
		for _, pair := range all {
			if present != "" && !in[present][journal.Hash(pair.Line)] {
				w.broken("%s is at %s now, whose feed lacks its %.100s", fixture.id, present, pair.Line)
			}
		}
	}
}

// siteLines are the lines of a site's feed that the server gives to phones.
func (w *world) siteLines(site string) (lines []journal.Line) {
	pairs, _, err := w.server.vault.events.Site(site, 0, 1<<20)
	must(0, err)
	for _, pair := range pairs {
		if !w.spared(pair.Line) {
			lines = append(lines, pair.Line)
		}
	}
	return lines
}

// digest is the fixtures that lines make.
func (w *world) digest(lines []journal.Line) string {
	book := record.NewBook()
	for _, line := range lines {
		book.Add(w.event(line))
	}
	return digest(book)
}

// holdPhone: a phone in order has nothing unsent, and of each of its sites what the server has; a revoked one has nothing.
func (w *world) holdPhone(h *handset, digests map[string]string) {
	if h.phone == nil {
		w.broken("%s is not open: %s", h.name, h.why)
	}
	standing := h.phone.Standing()
	if standing.Unsent > 0 || standing.Pictures > w.waitingForAWord(h) && !standing.Revoked {
		w.broken("%s has %d events and %d pictures unsent: %s %s", h.name, standing.Unsent, standing.Pictures, standing.Reach, standing.Problem)
	}
	w.sentIsTrue(h)
	sites := h.person.sites()
	if w.server.revoked[h.device] {
		w.reached("revoked wiped")
		sites = nil
		if !standing.Revoked {
			w.broken("%s is revoked and does not know", h.name)
		}
	} else if standing.Problem != "" || standing.Reach != exchange.Reached || standing.SignedOut || standing.Revoked {
		w.broken("%s is not in order: %+v", h.name, standing)
	}
	if held := h.pool.Sites(); !slices.Equal(held, slices.Sorted(slices.Values(sites))) {
		w.broken("%s holds %v, its person works at %v", h.name, held, sites)
	}
	for _, site := range sites {
		w.holdSite(h, site, digests[site])
	}
	if !standing.Revoked {
		w.toldOfAsides(h)
	}
	w.holdBook(h)
}

// toldOfAsides: whoever wrote what the server keeps apart is told so, event by event.
func (w *world) toldOfAsides(h *handset) {
	told := map[string]string{}
	_, _ = h.pool.State().Load("asides", &told)
	_ = h.pool.Log().Each(func(line journal.Line) bool {
		e, hash := w.event(line), journal.Hash(line)
		if w.server.mirror.has[hash] && !w.server.mirror.fed[hash] && told[e.Log+"/"+uintText(e.Seq)] == "" {
			w.broken("%s does not know that its %s/%d is set aside", h.name, e.Log, e.Seq)
		}
		return true
	})
}

// holdSite: the phone's feed of a site has exactly the server's lines, each once, and folds to the same fixtures.
//
// Two things more may be there after a restore. Where a fixture is follows from the order in which its moves reached the server, and a
// restored server gets them in another order: what it makes of the past of a fixture that moved away need not be what
// it was, and a phone does not give back what it once pulled. Such events are at the server, in the feeds of other sites.
// And one side of a fork that a person had accepted may be set aside again: a phone hands in what it can tell the server to
// lack, and where the two sides of a log speak of different sites it cannot always. Nothing is lost by that: both sides
// are at the server, and one of them waits for a person once more.
func (w *world) holdSite(h *handset, site, want string) {
	var lines []journal.Line
	var hashes []string
	must(0, must(h.pool.Site(site)).Each(func(pair journal.Pair) bool {
		if !w.leftOver(site, pair.Line) {
			lines = append(lines, pair.Line)
			hashes = append(hashes, journal.Hash(pair.Line))
		}
		return true
	}))
	w.once(site+" on "+h.name, hashes)
	var theirs []string
	for _, line := range w.siteLines(site) {
		theirs = append(theirs, journal.Hash(line))
	}
	slices.Sort(theirs)
	slices.Sort(hashes)
	if !slices.Equal(hashes, theirs) {
		w.broken("%s has %d events of %s, the server %d: %s", h.name, len(hashes), site, len(theirs), w.difference(lines, w.siteLines(site)))
	}
	if w.digest(lines) != want {
		w.broken("%s folds %s to another state than the server", h.name, site)
	}
	w.bothSides(lines)
	w.conflicts(lines)
}

// conflicts notes edits that began at one base, and kinds that nobody here knows.
func (w *world) conflicts(lines []journal.Line) {
	bases, unknown, conflict := map[string]bool{}, false, false
	for _, line := range lines {
		e := w.event(line)
		unknown = unknown || e.Kind == kindFuture
		if e.Kind == string(record.FixtureEdited) {
			conflict = conflict || bases[e.Base]
			bases[e.Base] = true
		}
	}
	if unknown {
		w.reached("unknown kind passed on")
	}
	if conflict {
		w.reached("two edits from one base")
	}
	w.registeredTwice(lines)
}

// registeredTwice holds that phones that registered one blank tag apart mean one fixture, which says so: the first name shows, the
// others stand beside it as a conflict until somebody edits the name, having seen them.
func (w *world) registeredTwice(lines []journal.Line) {
	by, edited := map[string][]string{}, map[string]bool{}
	events := w.eventsOf(lines)
	told := namedOthers(events)
	for _, e := range events {
		switch record.Kind(e.Kind) {
		case record.FixtureRegistered:
			if first, named := told[e.Log]; !named || e.Seq < first {
				by[e.About.Fixture] = append(by[e.About.Fixture], e.Log)
			}
		case record.FixtureEdited, record.Withdrawn:
			edited[e.About.Fixture] = true
		}
	}
	for id, logs := range by {
		if slices.Sort(logs); len(slices.Compact(logs)) > 1 && !edited[id] {
			w.reached("one blank tag registered by two phones")
			w.holdConflict(id, lines)
		}
	}
}

// eventsOf reads lines.
func (w *world) eventsOf(lines []journal.Line) (events []journal.Event) {
	for _, line := range lines {
		events = append(events, w.event(line))
	}
	return events
}

// namedOthers is from which seq on a log has changed what another log said: whoever writes it has seen that, and what led up to it, and registers
// no fixture of it apart any more.
func namedOthers(events []journal.Event) map[string]uint64 {
	of, first := map[string]string{}, map[string]uint64{}
	for _, e := range events {
		of[e.ID] = e.Log
	}
	for _, e := range events {
		if other, known := of[e.Base]; known && other != e.Log {
			if seq, named := first[e.Log]; !named || e.Seq < seq {
				first[e.Log] = e.Seq
			}
		}
	}
	return first
}

func (w *world) holdConflict(fixture string, lines []journal.Line) {
	book := record.NewBook()
	for _, line := range lines {
		book.Add(w.event(line))
	}
	if f := book.Fixture(fixture); len(f.Conflicting()) == 0 || book.FixtureByTag(f.Tag) != f {
		w.broken("%s was registered by two phones, and nobody is told", fixture)
	}
}

// leftOver says whether a line is one of those: of a fixture that moved, in another feed there; or set aside for a fork.
func (w *world) leftOver(site string, line journal.Line) bool {
	hash := journal.Hash(line)
	if w.server.life == 1 || slices.Contains(w.server.mirror.feeds[site], hash) {
		return false
	}
	if !w.server.mirror.fed[hash] {
		aside, err := w.server.vault.events.Apart(hash)
		return err == nil && aside.Code == journal.CodeForked && aside.Settled == nil
	}
	return slices.ContainsFunc(w.things.fixtures, func(f *fixture) bool {
		return f.moved && f.id == w.event(line).About.Fixture
	})
}

// bothSides notes a feed with both sides of a fork.
func (w *world) bothSides(lines []journal.Line) {
	seen := map[string]bool{}
	for _, line := range lines {
		e := w.event(line)
		key := e.Log + "/" + uintText(e.Seq)
		if seen[key] {
			w.reached("both sides of a fork in one feed")
			return
		}
		seen[key] = true
	}
}

// holdBook: what was folded as it came is what is folded anew, of the sites that the phone holds. What it wrote itself of others
// stands in its log for a while, and no screen shows it.
func (w *world) holdBook(h *handset) {
	if h.book == nil {
		return
	}
	live, anew, held := h.book, h.fold(false), h.pool.Sites()
	for _, site := range w.sites {
		if !slices.Contains(held, site) {
			live.DropSite(site)
			anew.DropSite(site)
		}
	}
	if digest(live) != digest(anew) {
		w.broken("%s shows another state than after a start", h.name)
	}
}

// difference says what one of two lists lacks.
func (w *world) difference(here, there []journal.Line) (text string) {
	for name, lists := range map[string][2][]journal.Line{"only here": {here, there}, "only there": {there, here}} {
		for _, line := range lists[0] {
			if !slices.ContainsFunc(lists[1], func(other journal.Line) bool { return string(other) == string(line) }) {
				e := w.event(line)
				text += "\n" + name + " " + journal.Hash(line)[:8] + " " + e.Log + "/" + uintText(e.Seq) + " " + e.Kind + " of " + e.About.Site
			}
		}
	}
	return text
}
