package simworld

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// visit is who calls.
type visit struct {
	id     string
	device device
	sites  []string
}

// handle answers a request as the program does: who calls, what may be asked, and the hall's answer.
func (s *server) handle(token string, r exchange.Request) exchange.Reply {
	if !s.up {
		return exchange.Reply{}
	}
	id, known := s.register.sessions[token]
	if !known {
		return problem(401, "no-session")
	}
	v := visit{id, s.register.devices[id], nil}
	v.sites = s.register.grants[v.device.person]
	path, rest, _ := strings.Cut(r.Path, "?")
	query := must(url.ParseQuery(rest))
	if v.device.revoked && path != exchange.PathPush {
		return problem(403, exchange.CodeRevoked)
	}
	answer, err := s.route(v, path, query, r)
	if !s.up {
		return exchange.Reply{} // it died over this
	}
	if store.CodeOf(err) == exchange.CodeWithdrawn {
		s.w.reached("withdrawn picture refused")
	}
	if err != nil {
		return refusal(err)
	}
	return exchange.Reply{Status: 200, Body: answer}
}

func (s *server) route(v visit, path string, query url.Values, r exchange.Request) ([]byte, error) {
	switch {
	case path == exchange.PathMeet:
		return s.meet(v, r.Body)
	case path == exchange.PathPush:
		return s.push(v, r)
	case path == exchange.PathPull:
		if !slices.Contains(v.sites, query.Get("site")) {
			return nil, &store.Fault{Code: exchange.CodeWrongSite}
		}
		return s.hall.Pull(query.Get("site"), query.Get("cursor"), 1+s.w.rng.IntN(exchange.MaxSlice))
	case path == exchange.PathFrontiers:
		return s.compare(r.Body)
	case path == exchange.PathFill:
		return s.fill(v, r)
	case strings.HasSuffix(path, "/part"):
		return s.part(strings.TrimSuffix(strings.TrimPrefix(path, exchange.PathPictures), "/part"))
	case strings.HasPrefix(path, exchange.PathPictures) && r.Method == "GET":
		return s.give(strings.TrimPrefix(path, exchange.PathPictures))
	case strings.HasPrefix(path, exchange.PathPictures):
		return s.picture(strings.TrimPrefix(path, exchange.PathPictures), query, r.Body)
	}
	s.w.broken("the phone asks for %s", r.Path)
	return nil, nil
}

func (s *server) meet(v visit, body []byte) ([]byte, error) {
	var g exchange.Greeting
	if json.Unmarshal(body, &g) != nil {
		return nil, &store.Fault{Code: "bad-request"}
	}
	type site struct {
		ID string `json:"id"`
	}
	me := struct {
		Person string            `json:"person"`
		Device map[string]string `json:"device"`
		Sites  []site            `json:"sites"`
	}{v.device.person, map[string]string{"id": v.id}, []site{}}
	for _, id := range v.sites {
		me.Sites = append(me.Sites, site{id})
	}
	raw := must(json.Marshal(me))
	welcome, err := s.hall.Meet(g, exchange.Caller{Device: v.id, Me: raw, Mark: journal.Hash(raw)[:16], Sites: v.sites}, "simulated")
	if err != nil {
		return nil, err
	}
	if welcome.Lost != nil {
		s.w.reached("lost log told")
	}
	return json.Marshal(welcome)
}

func (s *server) push(v visit, r exchange.Request) ([]byte, error) {
	lines, err := exchange.SplitBatch(r.Body)
	if err != nil {
		return nil, err
	}
	answer, err := s.hall.Push(lines, sender(v, r))
	if err != nil {
		return nil, err
	}
	s.heard(v, answer)
	return json.Marshal(answer)
}

func (s *server) fill(v visit, r exchange.Request) ([]byte, error) {
	answer, err := s.hall.Fill(r.Body, sender(v, r))
	if err != nil {
		return nil, err
	}
	s.w.reached("fill used")
	if bytes.Contains(r.Body, []byte(`"seal":"`)) {
		s.w.reached("fill with a seal")
	}
	s.heard(v, answer)
	return json.Marshal(answer)
}

func sender(v visit, r exchange.Request) exchange.Sender {
	from := exchange.Sender{Device: v.id, Revoked: v.device.revoked}
	if clock, err := time.Parse(journal.TimeLayout, r.Clock); err == nil {
		from.Clock = clock
	}
	return from
}

// heard counts what came of lines, and holds the server to it that nothing of a revoked device gets into a feed.
func (s *server) heard(v visit, answer exchange.Answer) {
	for _, verdict := range answer.Answers {
		switch verdict.Is {
		case exchange.Duplicate:
			s.w.reached("duplicate answered")
		case exchange.Aside:
			s.w.tally.asides++
			s.asideCode(verdict.Code)
		}
		if v.device.revoked && verdict.Is == exchange.Applied {
			s.w.broken("the revoked device %s got %s/%d into a feed", v.id, verdict.Log, verdict.Seq)
		}
	}
	if v.device.revoked && len(answer.Answers) > 0 {
		s.w.reached("pushed while revoked")
	}
}

func (s *server) asideCode(code string) {
	switch code {
	case journal.CodeForked:
		s.w.reached("fork detected")
	case exchange.CodeNotYours, exchange.CodeWrongSite, exchange.CodeRevoked:
		s.w.reached("set aside: " + code)
	}
}

func (s *server) compare(body []byte) ([]byte, error) {
	var held exchange.Frontiers
	if json.Unmarshal(body, &held) != nil {
		return nil, &store.Fault{Code: "bad-request"}
	}
	fed, err := s.hall.Compare(held)
	if err != nil {
		return nil, err
	}
	return json.Marshal(fed)
}

func (s *server) part(hash string) ([]byte, error) {
	have, whole, err := s.album.Blobs().Part(hash)
	if err != nil {
		return nil, err
	}
	if have > 0 && !whole {
		s.w.reached("picture resumed in the middle")
	}
	if p := s.w.truth.pictures[hash]; whole && p != nil {
		p.once = true // of one that was taken again too
	}
	return json.Marshal(exchange.Part{Have: have, Whole: whole})
}

func (s *server) picture(hash string, query url.Values, body []byte) ([]byte, error) {
	offset, _ := strconv.ParseInt(query.Get("offset"), 10, 64)
	size, _ := strconv.ParseInt(query.Get("size"), 10, 64)
	have, whole, err := s.extend(hash, offset, size, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	return json.Marshal(exchange.Part{Have: have, Whole: whole})
}

// give gives a whole picture.
func (s *server) give(hash string) ([]byte, error) {
	body, err := s.album.Blobs().Get(hash)
	if errors.Is(err, store.ErrNoBlob) {
		return nil, &store.Fault{Code: exchange.CodeUnknownPicture}
	}
	if err != nil {
		return nil, err
	}
	defer body.Close() // read only: closing cannot lose anything
	s.w.reached("picture given to another phone")
	return io.ReadAll(body)
}

// problem is a refusal in the server's own words.
func problem(status int, code string) exchange.Reply {
	return exchange.Reply{Status: status, Body: must(json.Marshal(map[string]any{"status": status, "code": code}))}
}

// refusal is what the program answers to an error.
func refusal(err error) exchange.Reply {
	status := map[string]int{
		store.CodeFull: 507, exchange.CodeTooMuch: 413, exchange.CodeTooLarge: 413, exchange.CodeWrongSite: 403,
		exchange.CodeWrongHash: 422, exchange.CodeUnknownPicture: 404, exchange.CodeWithdrawn: 410, exchange.CodeTooOld: 426, "bad-request": 400, exchange.CodeBadPull: 400, exchange.CodeBadPush: 400,
	}[store.CodeOf(err)]
	if status == 0 {
		return problem(500, "broken")
	}
	return problem(status, store.CodeOf(err))
}
