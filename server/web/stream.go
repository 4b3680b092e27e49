package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"time"

	"github.com/labstack/echo/v4"
)

// listener is one desk that is told when the feeds of its sites grow.
type listener struct {
	*Server
	c       echo.Context
	sites   []string
	changes <-chan Changed
}

// stream tells a desk when the feeds of its sites grow. At each sign of life, and before anything is told, the session is
// looked at again: a stream does not outlive it, and begins anew when the sites have changed.
func (s *Server) stream(c echo.Context) error {
	device := callerOf(c).Device.ID
	if !s.streams.enter(device) {
		return refuse(http.StatusTooManyRequests, "too-many-streams", fmt.Sprintf("a device may listen %d times at once", mostStreams))
	}
	defer s.streams.leave(device)
	sites, err := s.streamSites(callerOf(c))
	if err != nil {
		return s.problem(err)
	}
	patience(c, s.times.event)
	_ = http.NewResponseController(c.Response()).SetReadDeadline(time.Time{}) // nothing more comes in, for as long as it lasts
	changes, cancel := s.parts.Watch.Subscribe(sites...)
	defer cancel()
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "text/event-stream; charset=utf-8")
	h.Set("X-Accel-Buffering", "no") // a proxy in front must not hold lines back
	c.Response().WriteHeader(http.StatusOK)
	beat := time.NewTicker(s.parts.Beat)
	defer beat.Stop()
	l := listener{s, c, sites, changes}
	for on := l.send(": here\n\n"); on; {
		on = l.next(beat.C)
	}
	return nil
}

// next waits for one thing to tell and tells it; false ends the stream.
func (l listener) next(beat <-chan time.Time) bool {
	select {
	case <-l.c.Request().Context().Done():
		return false
	case <-l.closed:
		return false
	case change, open := <-l.changes:
		line, err := json.Marshal(change)
		return open && err == nil && l.holds() && l.send("data: "+string(line)+"\n\n")
	case <-beat:
		return l.holds() && l.send(": here\n\n")
	}
}

// holds says whether the session does, at the same sites.
func (l listener) holds() bool {
	visit, err := l.visitor(l.c.Request())
	if err != nil {
		l.send("event: ended\ndata: {}\n\n")
		return false
	}
	sites, err := l.streamSites(visit)
	return err == nil && slices.Equal(sites, l.sites)
}

func (s *Server) streamSites(visit Visit) ([]string, error) {
	sites, err := s.sitesOf(visit)
	ids := make([]string, len(sites))
	for i, site := range sites {
		ids[i] = site.ID
	}
	return ids, err
}

// send says whether a text was taken in time; what takes nothing for so long is gone.
func (l listener) send(text string) bool {
	control := http.NewResponseController(l.c.Response())
	_ = control.SetWriteDeadline(time.Now().Add(l.times.event)) // not every connection keeps time; then the write itself tells
	if _, err := l.c.Response().Write([]byte(text)); err != nil {
		return false
	}
	return control.Flush() == nil
}
