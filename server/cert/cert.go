// Package cert gives the server its certificate: from an authority of the installation's own (Local),
// from one that speaks ACME (ACME), or from two files that somebody else looks after (Files). Without a
// certificate that the phone trusts, no phone works offline. The package also serves the page that says how
// to come to trust it.
package cert

import (
	"crypto/sha256"
	"crypto/tls"
	"fmt"
	"strings"
	"time"
)

// Fault says what is wrong with a certificate or its files. Codes: "no-host-name", "no-addresses",
// "https-folder", "bad-authority", "authority-expired", "cannot-issue", "no-certificate-file",
// "bad-certificate-file", "certificate-expired", "acme-name", "acme-directory", "acme-waiting", "acme-refused".
type Fault struct {
	Code  string
	Text  string // what happened and what to do, for the person at the terminal
	Cause error
}

// Error gives the text and the cause.
func (f *Fault) Error() string {
	if f.Cause == nil {
		return f.Text
	}
	return f.Text + ": " + f.Cause.Error()
}

// Unwrap gives the cause.
func (f *Fault) Unwrap() error { return f.Cause }

// Clock tells the time.
type Clock func() time.Time

// Fingerprint is the SHA-256 of a certificate in DER form, as upper-case hexadecimal pairs with colons
// between: the form in which phones and browsers show it.
func Fingerprint(der []byte) string {
	sum := sha256.Sum256(der)
	pairs := make([]string, len(sum))
	for i, b := range sum {
		pairs[i] = fmt.Sprintf("%02X", b)
	}
	return strings.Join(pairs, ":")
}

// suites are those of TLS 1.2 that encrypt and authenticate in one step, with a key that is gone afterwards (RFC 9325, 4.2). TLS 1.3
// has no others.
var suites = []uint16{
	tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256, tls.TLS_ECDHE_ECDSA_WITH_AES_256_GCM_SHA384, tls.TLS_ECDHE_ECDSA_WITH_CHACHA20_POLY1305_SHA256,
	tls.TLS_ECDHE_RSA_WITH_AES_128_GCM_SHA256, tls.TLS_ECDHE_RSA_WITH_AES_256_GCM_SHA384, tls.TLS_ECDHE_RSA_WITH_CHACHA20_POLY1305_SHA256,
}

func config(get func(*tls.ClientHelloInfo) (*tls.Certificate, error)) *tls.Config {
	return &tls.Config{MinVersion: tls.VersionTLS12, CipherSuites: suites, GetCertificate: get, NextProtos: []string{"h2", "http/1.1"}}
}
