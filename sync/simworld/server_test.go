package simworld

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strconv"
	"time"

	"jointwalk/server/album"
	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// server is the one server: its process, what it keeps, and what is wrong with it.
type server struct {
	w        *world
	vault    *vault
	register *register
	hall     *exchange.Hall
	album    *album.Album
	shelf    *shelf
	mirror   *mirror
	life     int
	up       bool
	full     bool
	dies     moment // at the next commit
	backups  []backup
	revoked  map[string]bool // devices, whatever a restored register says: a person revokes them again
}

// moment is when in a commit the process dies.
type moment int

const (
	never moment = iota
	before
	after
)

// backup is a copy of everything, and what it held.
type backup struct {
	restore  func(incarnation string) *vault
	register *register
	at       time.Time
}

var errDied = errors.New("simworld: the server died")

func (w *world) newServer(open factory) *server {
	s := &server{w: w, vault: open(w), up: true, life: 1, revoked: map[string]bool{}}
	s.register = newRegister(func() exchange.Keeper { return s.vault.events })
	s.mirror = newMirror(s.vault.events)
	s.wire()
	return s
}

// wire puts the shipped hall before the shipped store, as the program does.
func (s *server) wire() {
	s.shelf = &shelf{Blobs: s.vault.blobs}
	s.album = album.New(committed{s.vault.events, s}, s.shelf, func() ([]string, error) { return s.w.sites, nil }, func(err error) { panic(err) })
	s.sweepAtStart()
	s.forgetDropped()
	s.hall = &exchange.Hall{Keeper: keeper{s}, Feed: s.vault.events, Now: func() time.Time { return s.w.now }, Register: registry{s.register, s},
		Judge: s.judge, Release: s.release, Seal: seal}
	if s.w.spares {
		s.hall.Skip = func(pairs []exchange.Stored) ([]bool, error) {
			skip := make([]bool, len(pairs))
			for i, pair := range pairs {
				skip[i] = s.w.spared(pair.Line)
			}
			return skip, nil
		}
	}
}

// spared says whether the server leaves an event out of its answers, as it does with old rounds: here one kind stands for them.
func (w *world) spared(line journal.Line) bool { return w.spares && w.event(line).Kind == kindFuture }

// seal is the server's mark.
func seal(hash string, r exchange.Receipt) string {
	mac := hmac.New(sha256.New, []byte("the server's own key"))
	mac.Write([]byte(hash + " " + r.At + " " + strconv.FormatInt(r.Offset, 10) + " " + r.From))
	return hex.EncodeToString(mac.Sum(nil))[:32]
}

// judge is what the program makes of an event's content.
func (s *server) judge(e journal.Event) (exchange.Judgement, error) {
	var judged exchange.Judgement
	if e.Kind == kindMoved {
		var body struct {
			Site string `json:"site"`
		}
		if json.Unmarshal(e.Body, &body) == nil {
			judged.To = body.Site
		}
	}
	var fault *record.Fault
	if err := record.CheckBody(e.Kind, e.V, e.Body); errors.As(err, &fault) {
		judged.Aside = fault.Code
	}
	return judged, nil
}

// release lets in what waited for its device to meet.
func (s *server) release(log string, judge func(journal.Event) (exchange.Judgement, error)) error {
	for _, aside := range must(s.vault.events.Asides(0, 1<<20)) {
		if aside.Log != log || aside.Code != exchange.CodeUnknownLog || aside.Settled != nil {
			continue
		}
		judged, err := judge(must(journal.Parse(aside.Line)))
		if err != nil {
			return err
		}
		if judged.Aside != "" {
			continue
		}
		if err := s.album.Events().Accept(aside.Hash, store.Settlement{At: s.w.now.UTC().Format(journal.TimeLayout)}); err != nil {
			return err
		}
		s.forgetDropped()
		s.w.reached("unknown-log released")
	}
	return nil
}

// commit is one transaction, with what can go wrong around it.
func (s *server) commit(do func() error) error {
	switch {
	case s.full:
		return &store.Fault{Code: store.CodeFull}
	case s.dies == before:
		s.die("server crash before commit")
		return errDied
	}
	err := do()
	s.mirror.follow(s.w)
	if err == nil && s.dies == after {
		s.die("server crash after commit")
		return errDied
	}
	return err
}

// die ends the process; it is started again some time later.
func (s *server) die(how string) {
	s.w.fault(how)
	s.up, s.dies = false, never
	s.w.after(s.w.between(3*time.Second, 20*time.Minute), s.start)
}

func (s *server) start() {
	if s.up {
		return
	}
	s.vault.events = s.vault.reopen()
	s.mirror.events = s.vault.events
	s.wire()
	s.up = true
	s.w.note("server up")
}

// backUp copies everything.
func (s *server) backUp() {
	if s.up {
		s.backups = append(s.backups, backup{s.vault.backup(), s.register.copy(), s.w.now})
		s.w.note("backup %d", len(s.backups))
	}
}

// restore goes back to an older copy, under another incarnation.
func (s *server) restore() {
	if len(s.backups) == 0 {
		return
	}
	from := pick(s.w, s.backups)
	s.w.fault("server restored")
	s.life++
	for _, p := range s.w.people { // grants go back too: who loses a site by that gives it back
		for _, site := range p.sites() {
			if !slices.Contains(from.register.grants[p.id], site) {
				s.w.truth.release(p.id, site)
			}
		}
	}
	s.w.forgetting(func() {
		s.vault.close()
		s.vault = from.restore("life-" + strconv.Itoa(s.life))
		s.register = from.register.copy()
		s.mirror = newMirror(s.vault.events)
		s.mirror.follow(s.w)
	})
	for id := range s.revoked {
		if d, known := s.register.devices[id]; known {
			d.revoked = true
			s.register.devices[id] = d
		}
	}
	s.wire()
	s.up, s.dies = true, never
}

// keeper is the store with commits that go wrong.
type keeper struct{ *server }

func (k keeper) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	verdicts, err := k.album.Events().Add(items)
	k.forgetDropped()
	return verdicts, err
}

func (k keeper) Fed(log string, most uint64) (uint64, error) { return k.vault.events.Fed(log, most) }

func (k keeper) Stand(log string, seqs []uint64) ([]string, error) {
	return k.vault.events.Stand(log, seqs)
}

func (k keeper) Upto(log string) (uint64, error) { return k.vault.events.Upto(log) }

// registry is the register with commits that go wrong.
type registry struct {
	*register
	s *server
}

func (r registry) Meet(device, log string, seq uint64, earlier []string) (met exchange.Met, err error) {
	err = r.s.commit(func() (err error) {
		met, err = r.register.Meet(device, log, seq, earlier)
		return err
	})
	return met, err
}

// extend adds to a picture.
func (s *server) extend(hash string, offset, size int64, body io.Reader) (have int64, whole bool, err error) {
	err = s.commit(func() (err error) {
		have, whole, err = s.album.Blobs().Extend(hash, offset, size, body)
		if p := s.w.truth.pictures[hash]; whole && p != nil {
			p.once = true
		}
		return err
	})
	return have, whole, err
}
