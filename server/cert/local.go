package cert

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"io"
	"sync"
	"time"
)

const (
	leafLife  = 397*24*time.Hour - time.Second // browsers refuse more than 398 days
	renewAt   = 30 * 24 * time.Hour            // before the end
	clockSlip = time.Hour                      // how far a phone's clock may be behind
)

// Local issues the server's certificate from the installation's own authority and renews it by itself.
type Local struct {
	authority *authority
	hosts     Hosts
	outside   Hosts
	now       Clock
	random    io.Reader

	mu   sync.Mutex
	leaf *tls.Certificate
}

// OpenLocal reads the authority kept in dir, or makes one that may sign for hosts only. An authority
// made for other hosts stays as it is, since phones trust it: see Outside.
func OpenLocal(dir string, hosts Hosts, now Clock, random io.Reader) (*Local, error) {
	a, err := openAuthority(dir, hosts, now(), random)
	if err != nil {
		return nil, err
	}
	inside, outside := a.covers(hosts)
	l := &Local{authority: a, hosts: inside, outside: outside, now: now, random: random}
	if _, err := l.certificate(); err != nil {
		return nil, err
	}
	return l, nil
}

// Hosts is what the certificate stands for.
func (l *Local) Hosts() Hosts { return l.hosts }

// Outside is what was asked for but is not covered by the authority: names and addresses that the
// machine got after the authority was made. Browsers would refuse them, so they are left out.
func (l *Local) Outside() Hosts { return l.outside }

// Authority is the authority's certificate in DER form: what a phone is to trust.
func (l *Local) Authority() []byte { return l.authority.cert.Raw }

// Config serves the certificate, renewed when less than 30 days are left.
func (l *Local) Config() *tls.Config {
	return config(func(*tls.ClientHelloInfo) (*tls.Certificate, error) { return l.certificate() })
}

// State tells of the certificate in use and of the authority.
func (l *Local) State() State {
	state := State{Authority: l.authority.cert}
	leaf, err := l.certificate()
	if err != nil {
		state.Trouble = err
		return state
	}
	state.Leaf = leaf.Leaf
	return state
}

func (l *Local) certificate() (*tls.Certificate, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.now()
	if l.leaf != nil && now.After(l.leaf.Leaf.NotBefore) && now.Before(l.renewal()) {
		return l.leaf, nil
	}
	leaf, err := l.issue(now)
	if err != nil {
		return nil, err
	}
	l.leaf = leaf
	return leaf, nil
}

// renewal is when the next certificate is due. The last one, which ends with the authority, is kept.
func (l *Local) renewal() time.Time {
	end := l.leaf.Leaf.NotAfter
	if end.Equal(l.authority.cert.NotAfter) {
		return end
	}
	return end.Add(-renewAt)
}

func (l *Local) issue(now time.Time) (*tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), l.random)
	if err != nil {
		return nil, &Fault{Code: "cannot-issue", Text: "no key could be made", Cause: err}
	}
	serial, err := serialNumber(l.random)
	if err != nil {
		return nil, err
	}
	start := now.Add(-clockSlip)
	end := start.Add(leafLife)
	if last := l.authority.cert.NotAfter; end.After(last) {
		end = last
	}
	template := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: l.hosts.title()},
		NotBefore: start, NotAfter: end,
		DNSNames: l.hosts.Names, IPAddresses: l.hosts.IPs,
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		BasicConstraintsValid: true,
	}
	der, err := x509.CreateCertificate(l.random, template, l.authority.cert, &key.PublicKey, l.authority.key)
	if err != nil {
		return nil, &Fault{Code: "cannot-issue", Text: "the server's certificate could not be made", Cause: err}
	}
	leaf, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, &Fault{Code: "cannot-issue", Text: "the server's certificate could not be made", Cause: err}
	}
	return &tls.Certificate{Certificate: [][]byte{der, l.authority.cert.Raw}, PrivateKey: key, Leaf: leaf}, nil
}
