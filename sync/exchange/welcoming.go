package exchange

import (
	"encoding/json"
	"slices"

	"jointwalk/sync/journal"
)

// Register knows which device wrote which log, who uses a device, and who works where.
type Register interface {
	// Meet notes how far a device says that its log goes, and which logs it wrote before.
	Meet(device, log string, seq uint64, earlier []string) (Met, error)
	// Writer is the device that wrote a log; known is false when none has told of it.
	Writer(log string) (device string, known bool, err error)
	// Enrolled are the persons who use a device, or did.
	Enrolled(device string) ([]string, error)
	// At says whether a person works at a site.
	At(person, site string) (bool, error)
}

// Met is what Register makes of a device that tells of its log.
type Met struct {
	Fresh   []string // logs, this one or earlier ones, that nobody had told of
	Foreign bool     // the log is another device's; nothing was noted
	Lost    *Lost
}

// may gives the code with which an event is set aside for who wrote it where, or "". Who hands it in does not matter.
func may(r Register, e journal.Event) (string, error) {
	device, known, err := r.Writer(e.Log)
	if err != nil || !known {
		return CodeUnknownLog, err
	}
	enrolled, err := r.Enrolled(device)
	if err != nil || !slices.Contains(enrolled, e.By) {
		return CodeNotYours, err
	}
	at, err := r.At(e.By, e.About.Site)
	if err != nil || !at {
		return CodeWrongSite, err
	}
	return "", nil
}

// Caller is whose device greets.
type Caller struct {
	Device string
	Me     json.RawMessage // what the device is told of itself: person, device, sites
	Mark   string          // of Me: unlike any other's
	Sites  []string        // where its person works
}

// Meet answers a greeting. Errors: CodeTooOld, and those of the register and the store.
func (h *Hall) Meet(g Greeting, c Caller, version string) (Welcome, error) {
	if g.Speaks < Oldest {
		return Welcome{}, &journal.Fault{Code: CodeTooOld}
	}
	w := Welcome{Speaks: Speaks, Oldest: Oldest, Version: version, Incarnation: h.Feed.Incarnation(), Now: journal.Stamp(h.Now()), Mark: c.Mark}
	if g.Me != c.Mark {
		w.Me = c.Me
	}
	met, err := h.Register.Meet(c.Device, g.Log, g.Seq, g.Earlier)
	if err != nil {
		return Welcome{}, err
	}
	w.Foreign, w.Lost = met.Foreign, met.Lost
	register := newMemo(h.Register)
	for _, log := range met.Fresh {
		err := h.Release(log, func(e journal.Event) (Judgement, error) { return h.judge(e, register) })
		if err != nil {
			return Welcome{}, err
		}
	}
	w.News, w.Behind, err = h.news(c.Sites, g.Cursors)
	return w, err
}

// news are those of the sites whose feed goes on behind the cursors, and by how many events. Error: the store's.
func (h *Hall) news(sites []string, cursors map[string]string) (news []string, behind uint64, err error) {
	for _, site := range sites {
		last, err := h.Feed.Last(site)
		if err != nil {
			return nil, 0, err
		}
		here := place{Incarnation: h.Feed.Incarnation(), Site: site}
		held := readCursor(cursors[site], here)
		if cursor, ok := cursors[site]; !ok || held < last || !isCursor(cursor, here) {
			news, behind = append(news, site), behind+last-min(held, last)
		}
	}
	return news, behind, nil
}
