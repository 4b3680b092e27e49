package web

import (
	"encoding/json"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

const writeTime = 30 * time.Second // a reader that takes nothing for so long is gone

// stream tells a desk when the feeds of its sites grow. At each sign of life the session is looked at
// again: a stream does not outlive it.
func (s *Server) stream(c echo.Context) error {
	ids, err := s.streamSites(callerOf(c))
	if err != nil {
		return s.problem(err)
	}
	changes, cancel := s.parts.Watch.Subscribe(ids...)
	defer cancel()
	c.Response().Header().Set(echo.HeaderContentType, "text/event-stream")
	c.Response().Header().Set("X-Accel-Buffering", "no") // a proxy in front must not hold lines back
	c.Response().WriteHeader(http.StatusOK)
	if !send(c, ": here\n\n") {
		return nil
	}
	beat := time.NewTicker(s.parts.Beat)
	defer beat.Stop()
	for s.next(c, changes, beat.C) {
	}
	return nil
}

// next waits for one thing to tell and tells it; false ends the stream.
func (s *Server) next(c echo.Context, changes <-chan Changed, beat <-chan time.Time) bool {
	select {
	case <-c.Request().Context().Done():
		return false
	case <-s.closed:
		return false
	case change, open := <-changes:
		line, err := json.Marshal(change)
		return open && err == nil && send(c, "data: "+string(line)+"\n\n")
	case <-beat:
		if _, err := s.visitor(c.Request()); err != nil {
			send(c, "event: ended\ndata: {}\n\n")
			return false
		}
		return send(c, ": here\n\n")
	}
}

func (s *Server) streamSites(visit Visit) ([]string, error) {
	sites, err := s.sitesOf(visit)
	ids := make([]string, len(sites))
	for i, site := range sites {
		ids[i] = site.ID
	}
	return ids, err
}

func send(c echo.Context, text string) bool {
	control := http.NewResponseController(c.Response())
	_ = control.SetWriteDeadline(time.Now().Add(writeTime)) // not every connection keeps time; then the write itself tells
	if _, err := c.Response().Write([]byte(text)); err != nil {
		return false
	}
	return control.Flush() == nil
}
