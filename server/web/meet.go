package web

import (
	"encoding/json"
	"errors"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const largestGreeting = 256 << 10

// newHall is the server's side of the exchange over its parts.
func (s *Server) newHall() *exchange.Hall {
	return &exchange.Hall{Keeper: s.parts.Events, Feed: s.parts.Events, Register: s.parts.Gate, Now: s.parts.Now,
		Judge: s.judge, Seal: s.parts.Seal, Release: s.release}
}

func (s *Server) meetRoutes() {
	s.documented(huma.Operation{OperationID: "meet", Method: http.MethodPost, Path: exchange.PathMeet, Summary: "A phone says how far its log goes and hears who it is, what is new, and what time it is",
		RequestBody: bodyOf("application/json"), Responses: answerOf("200", "application/json", "the welcome")}, s.meet)
	s.documented(huma.Operation{OperationID: "frontiers", Method: http.MethodPost, Path: exchange.PathFrontiers, Summary: "How far the server has each of the logs that a phone holds",
		RequestBody: bodyOf("application/json"), Responses: answerOf("200", "application/json", "log → seq")}, s.frontiers)
	s.documented(huma.Operation{OperationID: "fill", Method: http.MethodPost, Path: exchange.PathFill, Summary: "Hand back events with the receipts that this server once gave for them",
		RequestBody: bodyOf(ndjson), Responses: answerOf("200", "application/json", "a verdict a pair")}, s.fill)
}

func (s *Server) meet(c echo.Context) error {
	c.Response().Header().Set(headerAccepts, coding)
	var g exchange.Greeting
	if err := readJSON(c, &g); err != nil {
		return err
	}
	caller, err := s.callerFor(callerOf(c))
	if err != nil {
		return s.problem(err)
	}
	w, err := s.hall.Meet(g, caller, s.parts.Version)
	if journal.CodeOf(err) == exchange.CodeTooOld {
		return refuse(http.StatusUpgradeRequired, exchange.CodeTooOld, "this app is too old for the server; load it anew")
	}
	if err != nil {
		return s.problem(err)
	}
	return replyJSON(c, w)
}

// callerFor is what a visit's device is told of itself.
func (s *Server) callerFor(visit Visit) (exchange.Caller, error) {
	me, err := s.meOf(visit)
	if err != nil {
		return exchange.Caller{}, err
	}
	raw, err := json.Marshal(me)
	caller := exchange.Caller{Device: visit.Device.ID, Me: raw, Mark: journal.Hash(raw)[:16]}
	for _, site := range me.Sites {
		caller.Sites = append(caller.Sites, site.ID)
	}
	return caller, err
}

func (s *Server) frontiers(c echo.Context) error {
	var held exchange.Frontiers
	if err := readJSON(c, &held); err != nil {
		return err
	}
	fed, err := s.hall.Compare(held)
	if err != nil {
		return s.problem(err)
	}
	return replyJSON(c, fed)
}

func (s *Server) fill(c echo.Context) error {
	patience(c, s.times.batch)
	body, err := readBody(c, 2*exchange.MaxBatchBytes)
	if err != nil {
		return err
	}
	answer, err := s.hall.Fill(body, senderOf(c))
	switch journal.CodeOf(err) {
	case exchange.CodeBadPull, exchange.CodeTooMuch:
		return exchangeProblem(err)
	}
	if err != nil {
		return s.problem(err)
	}
	return replyJSON(c, answer)
}

// readJSON reads a body of the exchange's own.
func readJSON(c echo.Context, into any) error {
	body, err := readBody(c, largestGreeting)
	if err != nil {
		return err
	}
	if err := unmarshal(body, into); err != nil {
		return refuse(http.StatusBadRequest, "bad-request", "the body is no JSON of this kind, or its values stand more than 32 deep within others")
	}
	return nil
}

// judge says whether what an event says may be said by the person who says it.
func (s *Server) judge(e journal.Event) (judged exchange.Judgement, err error) {
	judged.To = record.MovesTo(e)
	var fault *record.Fault
	if err := record.CheckBody(e.Kind, e.V, e.Body); errors.As(err, &fault) {
		judged.Aside = fault.Code
		return judged, nil
	}
	if record.Kind(e.Kind) == record.PictureAdded {
		s.coming.note(e)
	}
	judged.Aside, err = s.forbids(e, judged.To)
	return judged, err
}

// forbids holds duties against what an event does, where it does it, and says why it may not, "" where it may. A fixture is
// moved by who may do so at both sites.
func (s *Server) forbids(e journal.Event, to string) (code string, err error) {
	p, known, err := s.writer(e)
	if err != nil {
		return "", err
	}
	kind := record.Kind(e.Kind)
	if !known || !p.mayWrite(kind, e.About.Site) || to != "" && !p.mayWrite(kind, to) {
		return "not-allowed", nil
	}
	if may, err := s.mayBegin(p, e); err != nil || !may {
		return "not-allowed", err
	}
	if own, err := s.mayCorrect(p, e); err != nil || !own {
		return codeNotYours, err
	}
	return s.forbidsWithdrawal(p, e)
}
