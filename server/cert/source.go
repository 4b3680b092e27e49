package cert

import (
	"crypto/tls"
	"crypto/x509"
	"math"
	"time"
)

// Source gives the server its certificate.
type Source interface {
	// Config serves the certificate that is in use at each handshake.
	Config() *tls.Config
	// State tells how it stands; it renews or reads again what is due.
	State() State
}

// State is how a source stands.
type State struct {
	Leaf      *x509.Certificate // in use; nil while there is none
	Authority *x509.Certificate // the installation's own, that signed it; nil without one
	Trouble   error             // why a newer one cannot be had; nil while nothing is wrong
}

// Warning is how near the end of a certificate is.
type Warning int

// The warnings: none; at most 21 days; at most 7; over.
const (
	Fine Warning = iota
	Soon
	Urgent
	Ended
)

const (
	aDay        = 24 * time.Hour
	soonAt      = 21 * aDay
	urgentAt    = 7 * aDay
	soonShare   = 4  // of the life of one that lives shorter than 84 days: what renews itself has done so at a third
	urgentShare = 12 // the same
)

// WarningAt is how near the end is at a time. A certificate that lives for days only is warned of in its last
// quarter and twelfth.
func WarningAt(c *x509.Certificate, now time.Time) Warning {
	left, life := c.NotAfter.Sub(now), c.NotAfter.Sub(c.NotBefore)
	switch {
	case left <= 0:
		return Ended
	case left <= min(urgentAt, life/urgentShare):
		return Urgent
	case left <= min(soonAt, life/soonShare):
		return Soon
	}
	return Fine
}

// DaysLeft are the whole days until the end, 0 within the last one and below 0 after it.
func DaysLeft(c *x509.Certificate, now time.Time) int {
	return int(math.Floor(float64(c.NotAfter.Sub(now)) / float64(aDay)))
}
