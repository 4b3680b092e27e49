package exchange

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/journal/badfile"
)

// office is a whole server for one phone, in memory: what web does with HTTP, without it.
type office struct {
	*keeper
	register
	hall     *Hall
	person   string
	device   string
	sites    []string
	pictures map[string]*partial
	refuse   map[string]Reply // path without its query → what is answered instead
	seen     []string
	now      time.Time
}

type partial struct {
	content []byte
	size    int
}

// register knows the logs that it was told of.
type register struct {
	writers map[string]string // log → device
	gone    bool              // the person works nowhere any more
	lost    *Lost             // told once
}

func (r *register) Meet(device, log string, _ uint64, _ []string) (Met, error) {
	writer, known := r.writers[log]
	if !known {
		r.writers[log] = device
	}
	met := Met{Foreign: known && writer != device, Lost: r.lost}
	r.lost = nil
	if !known {
		met.Fresh = []string{log}
	}
	return met, nil
}

func (r *register) Writer(log string) (string, bool, error) {
	device, known := r.writers[log]
	return device, known, nil
}

func (r *register) Enrolled(device string) ([]string, error) {
	return []string{strings.Replace(device, "device", "person", 1)}, nil
}

func (r *register) At(string, string) (bool, error) { return !r.gone, nil }

func newOffice() *office {
	o := &office{keeper: newKeeper(), register: register{writers: map[string]string{}}, person: "person-1", device: "device-1", sites: []string{"site-1"},
		pictures: map[string]*partial{}, refuse: map[string]Reply{}, now: noon}
	o.renew("first")
	return o
}

// renew makes another life of the store.
func (o *office) renew(incarnation string) {
	o.keeper.incarnation = incarnation
	o.hall = o.keeper.hall(noon)
	o.hall.Now = func() time.Time { return o.now }
	o.hall.Register = &o.register
}

func (o *office) caller() Caller {
	me := map[string]any{"person": map[string]string{"id": o.person}, "device": map[string]string{"id": o.device}}
	var sites []map[string]string
	for _, s := range o.sites {
		sites = append(sites, map[string]string{"id": s})
	}
	me["sites"] = sites
	raw := must(json.Marshal(me))
	return Caller{Device: o.device, Me: raw, Mark: journal.Hash(raw), Sites: o.sites}
}

// answer answers one request.
func (o *office) answer(r Request) Reply {
	path, query, _ := strings.Cut(r.Path, "?")
	o.seen = append(o.seen, path)
	if instead, refused := o.refuse[path]; refused {
		return instead
	}
	sender := Sender{Device: o.device}
	var body any
	var err error
	switch path {
	case PathMeet:
		var g Greeting
		if err = json.Unmarshal(r.Body, &g); err == nil {
			body, err = o.hall.Meet(g, o.caller(), "1.2.3")
		}
	case PathPush:
		body, err = o.hall.Push(must(SplitBatch(r.Body)), sender)
	case PathFrontiers:
		var f Frontiers
		if err = json.Unmarshal(r.Body, &f); err == nil {
			body, err = o.hall.Compare(f)
		}
	case PathFill:
		body, err = o.hall.Fill(r.Body, sender)
	case PathPull:
		raw, err := o.hall.Pull(field(query, "site"), field(query, "cursor"), 2)
		return reply(raw, err)
	default:
		body, err = o.picture(r, path, query)
	}
	raw, bad := json.Marshal(body)
	if err == nil {
		err = bad
	}
	return reply(raw, err)
}

func reply(body []byte, err error) Reply {
	if err != nil {
		return refusal(500, "internal")
	}
	return Reply{Status: 200, Body: body}
}

func refusal(status int, code string) Reply {
	return Reply{Status: status, Body: []byte(`{"code":"` + code + `"}`)}
}

func field(query, name string) string {
	for _, part := range strings.Split(query, "&") {
		if value, ok := strings.CutPrefix(part, name+"="); ok {
			return value
		}
	}
	return ""
}

// picture keeps pieces in order.
func (o *office) picture(r Request, path, query string) (Part, error) {
	hash, _, _ := strings.Cut(strings.TrimPrefix(path, PathPictures), "/")
	p := o.pictures[hash]
	if p == nil {
		p = &partial{}
		o.pictures[hash] = p
	}
	if r.Method == "PATCH" {
		p.size = must(atoi(field(query, "size")))
		if must(atoi(field(query, "offset"))) == len(p.content) {
			p.content = append(p.content, r.Body...)
		}
	}
	return Part{Have: int64(len(p.content)), Whole: p.size > 0 && len(p.content) == p.size}, nil
}

func atoi(s string) (n int, err error) { return n, json.Unmarshal([]byte(s), &n) }

// hand is a phone in the hand: its files outlive it.
type hand struct {
	*Phone
	t     testing.TB
	files []journal.File
	ids   int
	now   time.Time
	added []journal.Pair
	left  []string
	fault string
}

func newHand(t testing.TB) *hand {
	return handOn(t, func() journal.File { return &journal.Memory{} })
}

// badHand is a phone whose files can be broken.
func badHand(t testing.TB) *hand { return handOn(t, func() journal.File { return badfile.New(nil) }) }

// fileOf is the file of a badHand that the stream with this beginning has claimed.
func (h *hand) fileOf(stream string) *badfile.File {
	h.t.Helper()
	for _, f := range h.files {
		if bad := f.(*badfile.File); strings.Contains(string(bad.Bytes()), `"stream":"`+stream) {
			return bad
		}
	}
	h.t.Fatalf("no file of %s", stream)
	return nil
}

func handOn(t testing.TB, file func() journal.File) *hand {
	h := &hand{t: t, now: noon.Add(-90 * time.Second)}
	for range 8 {
		h.files = append(h.files, file())
	}
	h.start(true)
	return h
}

func (h *hand) start(fresh bool) {
	var slots []journal.Slot
	for i, f := range h.files {
		slots = append(slots, journal.Slot{Name: string(rune('a' + i)), File: f, Fresh: fresh})
	}
	newID := func() (string, error) { h.ids++; return uid(0xa000 + h.ids), nil }
	pool := must(journal.OpenPool(slots, must(newID())))
	h.Phone = must(OpenPhone(pool, PhoneEnv{NewID: newID, Now: func() time.Time { return h.now }, Jitter: func() float64 { return 0.5 }, App: "7"}))
}

func (h *hand) save(from, to int) []journal.Line {
	h.t.Helper()
	return must(h.pool.Log().Append(drafts(from, to)))
}

// turn carries everything of a turn.
func (h *hand) turn(o *office, whole bool) *hand {
	h.t.Helper()
	o.seen, h.added, h.left, h.fault = nil, nil, nil, ""
	h.Begin(whole)
	for n := 0; ; n++ {
		r, some := h.Next()
		if !some {
			return h
		}
		if n == 200 {
			h.t.Fatalf("a turn without end: %v", o.seen[n-20:])
		}
		h.carry(o.answer(r))
	}
}

func (h *hand) carry(r Reply) {
	news := h.Took(r)
	h.added, h.left = append(h.added, news.Added...), append(h.left, news.Left...)
	if news.Fault != "" {
		h.fault = news.Fault
	}
}

func wantSeen(t *testing.T, o *office, want ...string) {
	t.Helper()
	if !slices.Equal(o.seen, want) {
		t.Errorf("carried %v, want %v", o.seen, want)
	}
}

// Wherever a crash comes while an answer is taken, what was set aside never counts as sent without that being known.
func TestSetAsideIsKnownBeforeItCountsAsSent(t *testing.T) {
	died := 0
	for left := 0; ; left++ {
		o, h := newOffice(), badHand(t)
		h.turn(o, true)
		h.save(0, 3)
		o.gone = true
		power := &badfile.Power{Left: left}
		for _, f := range h.files {
			f.(*badfile.File).Power = power
		}
		h.turn(o, false)
		for i, f := range h.files {
			h.files[i] = f.(*badfile.File).Crash(0)
		}
		h.start(false)
		if s := h.Standing(); s.Unsent == 0 && s.Asides != 3 {
			t.Fatalf("power for %d calls: nothing unsent, %d known to be set aside", left, s.Asides)
		}
		h.turn(o, false)
		if s := h.Standing(); s.Unsent != 0 || s.Asides != 3 {
			t.Fatalf("power for %d calls: then %d unsent, %d set aside", left, s.Unsent, s.Asides)
		}
		if power.Left >= 0 {
			break
		}
		died++
	}
	if died < 4 {
		t.Errorf("only %d crashes", died)
	}
}

func TestATurnMeetsPushesPullsAndThenIsOneRequest(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	lines := h.save(0, 3)
	h.turn(o, true)
	wantSeen(t, o, PathMeet, PathPush, PathPull, PathPull)
	if s := h.Standing(); s.Unsent != 0 || s.Reach != Reached || s.Server != "1.2.3" || *s.ClockOffset != -90000 || s.Synced != "2026-03-04T11:58:30.000Z" {
		t.Errorf("%+v", s)
	}
	if len(h.added) != 3 || string(h.added[0].Line) != string(lines[0]) {
		t.Errorf("%d came back", len(h.added))
	}
	h.turn(o, true)
	wantSeen(t, o, PathMeet)
	if h.Wait() != time.Minute {
		t.Errorf("waits %v", h.Wait())
	}
}

func TestASaveOnlySendsOnceTheLogIsKnown(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.save(0, 1)
	h.turn(o, false)
	wantSeen(t, o, PathMeet, PathPush)
	h.save(1, 2)
	h.turn(o, false)
	wantSeen(t, o, PathPush)
}

func TestATurnAskedForDuringAnotherIsNotLost(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.Begin(false)
	h.Begin(true)
	h.Begin(false)
	h.turn(o, false)
	if n := len(o.seen) - len(slices.DeleteFunc(slices.Clone(o.seen), func(p string) bool { return p == PathPull })); n != 1 {
		t.Errorf("carried %v", o.seen)
	}
}

func TestWhatIsNotOursIsOffline(t *testing.T) {
	for name, r := range map[string]Reply{"nobody": {}, "portal": {Status: 200, Body: []byte("<html>")}, "proxy": {Status: 502, Body: []byte("bad")}, "other": {Status: 404}} {
		o, h := newOffice(), newHand(t)
		h.save(0, 1)
		o.refuse[PathMeet] = r
		h.turn(o, true)
		if s := h.Standing(); s.Reach != Offline || s.Unsent != 1 || s.Problem != "" || h.fault != CodeOffline {
			t.Errorf("%s: %+v %s", name, s, h.fault)
		}
	}
}

func TestRefusalsSayWhatTheyAre(t *testing.T) {
	for code, r := range map[string]Reply{"server-full": refusal(507, "server-full"), "store-broken": refusal(503, "store-broken")} {
		o, h := newOffice(), newHand(t)
		h.turn(o, true).save(0, 1)
		o.refuse[PathPush] = r
		h.turn(o, true)
		if s := h.Standing(); s.Problem != code || s.Unsent != 1 || s.Reach != Reached || h.Wait() < MinWait {
			t.Errorf("%s: %+v, waits %v", code, s, h.Wait())
		}
		delete(o.refuse, PathPush)
		if s := h.turn(o, true).Standing(); s.Problem != "" || s.Unsent != 0 {
			t.Errorf("after %s: %+v", code, s)
		}
	}
}

func TestWaitsGrowAndBeginAnewAfterSuccess(t *testing.T) {
	o, h := newOffice(), newHand(t)
	o.refuse[PathMeet] = Reply{}
	first := h.turn(o, true).Wait()
	for range 20 {
		h.turn(o, true)
	}
	if later := h.Wait(); first < time.Second || later < 20*first || later > MaxWait {
		t.Errorf("first %v, at last %v", first, later)
	}
	delete(o.refuse, PathMeet)
	h.turn(o, true)
	o.refuse[PathMeet] = Reply{}
	if again := h.turn(o, true).Wait(); again != first {
		t.Errorf("after a success %v", again)
	}
}

func TestALostSessionLosesNothing(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 2)
	o.refuse[PathPush] = refusal(401, "no-session")
	if s := h.turn(o, true).Standing(); !s.SignedOut || s.Unsent != 2 || s.Problem != "" {
		t.Errorf("%+v", s)
	}
	delete(o.refuse, PathPush)
	if s := h.turn(o, true).Standing(); s.SignedOut || s.Unsent != 0 {
		t.Errorf("%+v", s)
	}
}

func TestTooOldEitherWayKeepsCapturing(t *testing.T) {
	for code, r := range map[string]Reply{CodeTooOld: refusal(426, CodeTooOld), CodeServerTooOld: refusal(404, "not-found")} {
		o, h := newOffice(), newHand(t)
		o.refuse[PathMeet] = r
		h.save(0, 1)
		if s := h.turn(o, true).Standing(); s.TooOld != code || s.Unsent != 1 {
			t.Errorf("%+v", s)
		}
		h.save(1, 2)
		delete(o.refuse, PathMeet)
		if s := h.turn(o, true).Standing(); s.TooOld != "" || s.Unsent != 0 {
			t.Errorf("%+v", s)
		}
	}
}

// A phone that becomes another device ends its log: what was written before stays the other's.
func TestAnotherDeviceBeginsAnotherLog(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 1)
	before := h.pool.Log().ID()
	o.device, o.person = "device-2", "person-2"
	h.turn(o, true)
	after := h.pool.Log().ID()
	if before == after || o.writers[before] != "device-1" || o.writers[after] != "device-2" || h.Standing().Asides != 0 || len(o.feed["site-1"]) != 1 {
		t.Errorf("%s %s %v %+v", before, after, o.writers, h.Standing())
	}
	h.save(1, 2)
	if s := h.turn(o, true).Standing(); s.Asides != 1 {
		t.Errorf("an event in the name of who does not use this device: %+v", s)
	}
}

func TestALogOfAnotherDeviceIsNotGoneOnWith(t *testing.T) {
	o, h := newOffice(), newHand(t)
	o.writers[h.pool.Log().ID()] = "device-9"
	if h.turn(o, true); o.writers[h.pool.Log().ID()] != "device-1" {
		t.Errorf("%v", o.writers)
	}
}

func TestASiteThatIsLostGoesAfterItsEventsWereSent(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 2)
	h.turn(o, true)
	h.save(2, 3)
	o.sites = []string{"site-2"}
	o.refuse[PathPush] = Reply{}
	if h.turn(o, true); len(h.left) != 0 || !slices.Contains(h.pool.Sites(), "site-1") {
		t.Errorf("left %v with an event unsent", h.left)
	}
	delete(o.refuse, PathPush)
	h.turn(o, true) // and once more by itself: only another greeting says that the server has what it had
	if !slices.Equal(h.left, []string{"site-1"}) || slices.Contains(h.pool.Sites(), "site-1") || h.Standing().Unsent != 0 {
		t.Errorf("left %v", h.left)
	}
	if sent, again := slices.Index(o.seen, PathPush), slices.Index(o.seen[1:], PathMeet)+1; sent < 1 || again < sent {
		t.Errorf("given back without being greeted again: %v", o.seen)
	}
	o.sites = []string{"site-1"}
	if h.turn(o, true); len(h.added) != 3 {
		t.Errorf("gained again: %d events", len(h.added))
	}
}

func TestARevokedDevicePushesThenForgets(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 2)
	h.turn(o, true)
	h.save(2, 3)
	o.refuse[PathMeet] = refusal(403, CodeRevoked)
	h.turn(o, true)
	wantSeen(t, o, PathMeet, PathPush)
	if s := h.Standing(); !s.Revoked || s.Unsent != 0 || len(h.pool.Sites()) != 0 || !slices.Equal(h.left, []string{"site-1"}) {
		t.Errorf("%+v, holds %v", s, h.pool.Sites())
	}
	h.start(false)
	if !h.Standing().Revoked {
		t.Error("forgotten over a restart")
	}
}

func TestPicturesGoInPiecesAndResume(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	content := []byte(strings.Repeat("0123456789abcdef", 20_000)) // 320 kB: three pieces
	hash := journal.Hash(content)
	if err := h.pool.Pictures().Add(hash, content, "2026-03-04T12:00:00.000Z"); err != nil {
		t.Fatal(err)
	}
	h.Begin(true)
	for range 3 { // greeting, how much is there, the first piece; then the way breaks
		r, _ := h.Next()
		h.carry(o.answer(r))
	}
	h.Next()
	h.carry(Reply{})
	if have := len(o.pictures[hash].content); have != MaxChunk || h.Standing().Pictures != 1 || h.Standing().OldestPicture == "" {
		t.Errorf("%d bytes, %+v", have, h.Standing())
	}
	h.turn(o, true)
	if len(o.seen) != 4 || string(o.pictures[hash].content) != string(content) || h.Standing().Pictures != 0 {
		t.Errorf("%v", o.seen)
	}
}

func TestARefusedPictureHoldsBackNoOther(t *testing.T) {
	o, h := newOffice(), newHand(t)
	bad, good := []byte("no picture"), []byte("a picture")
	for _, content := range [][]byte{bad, good} {
		if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
			t.Fatal(err)
		}
	}
	o.refuse[PathPictures+journal.Hash(bad)] = refusal(415, CodeNotAPicture)
	if s := h.turn(o, true).Standing(); s.Pictures != 1 || s.Problem != CodeNotAPicture || !o.whole(good) {
		t.Errorf("%+v", s)
	}
}

// The server's word that a picture was withdrawn is final: its bytes go, and it is neither counted nor sent again.
func TestAWithdrawnPictureIsNotSentForEver(t *testing.T) {
	for _, path := range []string{"/part", ""} {
		o, h := newOffice(), newHand(t)
		gone, good := []byte("withdrawn meanwhile"), []byte("a picture")
		for _, content := range [][]byte{gone, good} {
			if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
				t.Fatal(err)
			}
		}
		o.refuse[PathPictures+journal.Hash(gone)+path] = refusal(410, CodeWithdrawn)
		if s := h.turn(o, true).Standing(); s.Pictures != 0 || s.Problem != "" || h.fault != "" || !o.whole(good) {
			t.Errorf("%+v %s", s, h.fault)
		}
		if _, err := h.pool.Pictures().Read(journal.Hash(gone)); journal.CodeOf(err) != journal.CodeNoPicture {
			t.Errorf("it is here still: %v", err)
		}
		if h.turn(o, true); slices.ContainsFunc(o.seen, func(path string) bool { return strings.HasPrefix(path, PathPictures) }) {
			t.Errorf("asked again: %v", o.seen)
		}
	}
}

// A picture that was withdrawn once and is spoken of again here waits until the server has heard so.
func TestAWantedPictureOutlivesItsEarlierWithdrawal(t *testing.T) {
	o, h := newOffice(), newHand(t)
	content := []byte("taken twice")
	wanted := true
	h.Phone.env.Wanted = func(hash string) bool { return wanted && hash == journal.Hash(content) }
	if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
		t.Fatal(err)
	}
	part := PathPictures + journal.Hash(content) + "/part"
	o.refuse[part] = refusal(410, CodeWithdrawn)
	if s := h.turn(o, true).Standing(); s.Pictures != 1 || s.Problem != "" {
		t.Errorf("%+v", s)
	}
	delete(o.refuse, part)
	if s := h.turn(o, true).Standing(); s.Pictures != 0 || !o.whole(content) {
		t.Errorf("%+v", s)
	}
}

// What the server says of a picture is not taken for a word about the next one, when the first was dropped meanwhile.
func TestAPictureIsDroppedWhileTheServerAnswers(t *testing.T) {
	first, second := []byte("dropped meanwhile"), []byte("the next one")
	for _, answer := range []Reply{{Status: 200, Body: []byte(`{"have":17,"whole":true}`)}, {Status: 200, Body: []byte(`{"have":9}`)}, refusal(415, CodeNotAPicture), refusal(410, CodeWithdrawn)} {
		o, h := newOffice(), newHand(t)
		for _, content := range [][]byte{first, second} {
			if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
				t.Fatal(err)
			}
		}
		h.Begin(true)
		for r, _ := h.Next(); !strings.HasSuffix(r.Path, "/part"); r, _ = h.Next() {
			h.carry(o.answer(r))
		}
		if err := h.pool.Pictures().Drop(journal.Hash(first)); err != nil {
			t.Fatal(err)
		}
		h.carry(answer)
		if s := h.Standing(); s.Pictures != 1 {
			t.Errorf("%s: %d wait", answer.Body, s.Pictures)
		}
		for r, some := h.Next(); some; r, some = h.Next() {
			h.carry(o.answer(r))
		}
		if !o.whole(second) || h.Standing().Pictures != 0 {
			t.Errorf("%s: %+v", answer.Body, h.Standing())
		}
	}
}

func (o *office) whole(content []byte) bool {
	p := o.pictures[journal.Hash(content)]
	return p != nil && string(p.content) == string(content)
}

func TestExportGivesWhatIsUnsentInParts(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 2)
	h.turn(o, true)
	want := h.save(2, 2+MaxBatch+5)
	var got []journal.Line
	for more := true; more; {
		var part []journal.Line
		part, more, _ = h.Export(len(got))
		got = append(got, part...)
	}
	if texts(got) != texts(want) {
		t.Errorf("%d of %d lines", len(got), len(want))
	}
}

func TestAReplyThatNobodyAskedForDoesNothing(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.Took(Reply{Status: 200, Body: []byte("{}")})
	h.turn(o, true)
	h.Took(refusal(403, CodeRevoked))
	if s := h.Standing(); s.Revoked || s.Reach != Reached {
		t.Errorf("%+v", s)
	}
}

func TestALostLogIsToldUntilTheNextStart(t *testing.T) {
	o, h := newOffice(), newHand(t)
	o.register.lost = &Lost{Log: logB, Told: 9, Upto: 7}
	h.turn(o, true)
	if s := h.turn(o, true).Standing(); s.Lost == nil || *s.Lost != (Lost{Log: logB, Told: 9, Upto: 7}) {
		t.Errorf("%+v", s.Lost)
	}
}

func TestWhatWaitedForItsLogIsReleasedByTheGreeting(t *testing.T) {
	o, h := newOffice(), newHand(t)
	var released []string
	o.hall.Release = func(log string, judge func(journal.Event) (Judgement, error)) error {
		released = append(released, log)
		mine := must(judge(journal.Event{Log: log, By: "person-1", About: journal.About{Site: "site-1"}}))
		other := must(judge(journal.Event{Log: log, By: "person-2", About: journal.About{Site: "site-1"}}))
		if mine.Aside != "" || other.Aside != CodeNotYours {
			t.Errorf("%+v %+v", mine, other)
		}
		return nil
	}
	h.turn(o, true)
	h.turn(o, true)
	if len(released) != 1 || released[0] != h.pool.Log().ID() {
		t.Errorf("released %v", released)
	}
}

func TestWhoMayWriteWhere(t *testing.T) {
	o := newOffice()
	line := written(logB, 1)[0]
	verdict := func() Verdict { return must(o.hall.Push([]journal.Line{line}, Sender{Device: "device-7"})).Answers[0] }
	if v := verdict(); v.Code != CodeUnknownLog {
		t.Errorf("%+v", v)
	}
	o.writers[logB] = "device-2"
	if v := verdict(); v.Code != CodeNotYours {
		t.Errorf("%+v", v)
	}
	o.writers[logB], o.gone = "device-1", true
	if v := verdict(); v.Code != CodeWrongSite {
		t.Errorf("%+v", v)
	}
	o.gone = false
	if v := verdict(); v.Is != Applied || o.feed["site-1"][0].Receipt.From != "device-7" {
		t.Errorf("%+v: the receipt names who sent it", v)
	}
}
