package web

import (
	"fmt"
	"time"
)

// Connection is how the certificate stands that phones come in by.
type Connection struct {
	Way         string   `json:"way" doc:"where it comes from: local, acme or files"`
	Certificate *Lasting `json:"certificate" doc:"the one in use; null while there is none"`
	Authority   *Lasting `json:"authority" doc:"the installation's own; null without one"`
	Trouble     bool     `json:"trouble" doc:"a newer one cannot be had; the server's log says why"`
}

// Lasting is how long a certificate is good.
type Lasting struct {
	Ends    time.Time `json:"ends"`
	Days    int       `json:"days" doc:"whole days left; below 0 after the end"`
	Warning string    `json:"warning" doc:"fine, soon (at most 21 days), urgent (at most 7) or ended"`
}

// The warnings of Lasting.
const (
	Fine   = "fine"
	Soon   = "soon"
	Urgent = "urgent"
	Ended  = "ended"
)

// connection is nil for plain http.
func (s *Server) connection() *Connection {
	if s.parts.Connection == nil {
		return nil
	}
	return s.parts.Connection()
}

// healthOf is a line for each that lasts.
func healthOf(c *Connection) string {
	if c == nil {
		return ""
	}
	text := "certificate: none yet\n"
	if c.Certificate != nil {
		text = fmt.Sprintf("certificate: %d days left\n", c.Certificate.Days)
	}
	if c.Authority != nil {
		text += fmt.Sprintf("authority: %d days left\n", c.Authority.Days)
	}
	if c.Trouble {
		text += "trouble: no newer certificate can be had; the log says why\n"
	}
	return text
}
