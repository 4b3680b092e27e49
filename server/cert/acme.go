package cert

import (
	"crypto/tls"
	"errors"
	"net"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// PublicDirectory is where certificates come from that every phone trusts, unless another authority is named.
const PublicDirectory = autocert.DefaultACMEDirectory

// obtainAgain is how long after a try that failed the next one may be. Public authorities shut out who fails
// five times an hour (from memory).
const obtainAgain = 15 * time.Minute

// ACME has its certificate from an authority that speaks ACME (RFC 8555). It shows that the name is its own at the
// very port that serves the app (TLS-ALPN-01, RFC 8737), and renews by itself when a third of its life, or 30 days, are left.
type ACME struct {
	now     Clock
	manager *autocert.Manager
	ask     *tls.ClientHelloInfo // for our one name, whatever a visitor asked for
	hearing *hearing

	mu      sync.Mutex
	held    bool
	tried   time.Time
	trouble error
}

// OpenACME keeps keys and certificates in dir, for its owner alone. Directory is the address of the authority's
// directory, which must be https, and is asked by way of network. Nothing is asked before Obtain.
func OpenACME(dir, host, directory string, now Clock, network http.RoundTripper) (*ACME, error) {
	if err := checkName(host, directory); err != nil {
		return nil, err
	}
	if u, err := url.Parse(directory); err != nil || u.Scheme != "https" || u.Host == "" {
		return nil, &Fault{Code: "acme-directory", Text: "the directory of an authority is an address that begins with https://, not " + directory}
	}
	if err := errors.Join(os.MkdirAll(dir, 0o700), os.Chmod(dir, 0o700)); err != nil {
		return nil, &Fault{Code: "https-folder", Text: "the folder for the certificate cannot be used", Cause: err}
	}
	heard := &hearing{next: network}
	return &ACME{
		now:     now,
		hearing: heard,
		ask:     &tls.ClientHelloInfo{ServerName: host, CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256}},
		manager: &autocert.Manager{Prompt: autocert.AcceptTOS, Cache: autocert.DirCache(dir), HostPolicy: autocert.HostWhitelist(host),
			Client: &acme.Client{DirectoryURL: directory, HTTPClient: &http.Client{Transport: heard, CheckRedirect: nowhereElse}}},
	}, nil
}

// nowhereElse follows no redirect: the authority that was named is asked, and nobody that it points to.
func nowhereElse(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }

// special are the ends of names that the public name system does not have, so that no public authority can look
// for them: RFC 6761, 6762, 8375, and names that are common in plants.
var special = []string{"local", "localhost", "test", "example", "invalid", "internal", "home.arpa", "lan", "home", "corp"}

// checkName refuses what no authority can look for. One of the plant's own may know names that the public one does not.
func checkName(host, directory string) error {
	const instead = "; give --url the name by which the network finds this server, or take --https=local, which needs no such name"
	_, end, dotted := strings.Cut(host, ".")
	switch {
	case net.ParseIP(host) != nil:
		return &Fault{Code: "acme-name", Text: "no certificate is issued by ACME for an address such as " + host + instead}
	case !dotted || end == "localhost":
		return &Fault{Code: "acme-name", Text: "no certificate is issued by ACME for " + host + ", which is no full name such as leaks.example.com" + instead}
	case directory == PublicDirectory && slices.ContainsFunc(special, func(s string) bool { return strings.HasSuffix(host, "."+s) }):
		return &Fault{Code: "acme-name", Text: "a public authority cannot look for " + host + ", a name of this network only" + instead +
			", or name an authority of the plant's own with --acme-directory"}
	}
	return nil
}

// Config serves the certificate, and answers the authority that looks whether the name is ours. Before there is a
// certificate no handshake succeeds.
func (a *ACME) Config() *tls.Config {
	made := config(a.certificate)
	made.NextProtos = append(made.NextProtos, acme.ALPNProto)
	return made
}

func (a *ACME) certificate(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
	if slices.Equal(hello.SupportedProtos, []string{acme.ALPNProto}) {
		return a.manager.GetCertificate(hello)
	}
	a.mu.Lock()
	held, trouble := a.held, a.trouble
	a.mu.Unlock()
	if !held { // visitors must not make us ask: the authority counts how often
		return nil, &Fault{Code: "acme-waiting", Text: "there is no certificate yet", Cause: trouble}
	}
	return a.manager.GetCertificate(a.ask)
}

// Obtain has the first certificate issued, or takes the one kept, unless there is one or the last try has just
// failed: see State. It may take minutes, and the server must be reached meanwhile. One caller at a time.
func (a *ACME) Obtain() {
	if !a.due() {
		return
	}
	_, err := a.manager.GetCertificate(a.ask)
	if err != nil {
		err = a.refused(err)
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	a.held, a.trouble, a.tried = err == nil, err, a.now()
}

// refused says what to do about a certificate that was not had, with the authority's own words where it gave any.
func (a *ACME) refused(err error) error {
	if said := a.hearing.heard(); said != "" {
		err = errors.New(said)
	}
	return &Fault{Code: "acme-refused", Cause: err, Text: "no certificate was had from " + a.manager.Client.DirectoryURL + "; it must reach this server at port 443 of " +
		a.ask.ServerName + ", and this machine must reach it; it is tried again within the hour"}
}

func (a *ACME) due() bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	since := a.now().Sub(a.tried)
	return !a.held && (since < 0 || since >= obtainAgain)
}

// State tells of the certificate in use, and why it could not be renewed when that was tried. The library tries again each
// half an hour to an hour.
func (a *ACME) State() State {
	a.mu.Lock()
	held, trouble := a.held, a.trouble
	a.mu.Unlock()
	if !held {
		return State{Trouble: trouble}
	}
	got, err := a.manager.GetCertificate(a.ask)
	if err != nil {
		return State{Trouble: err}
	}
	state := State{Leaf: got.Leaf}
	if a.hearing.heard() != "" {
		state.Trouble = a.refused(nil)
	}
	return state
}
