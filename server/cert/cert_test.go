package cert

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var start = time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)

type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

func lan(ips ...string) []net.Addr {
	var addrs []net.Addr
	for _, ip := range ips {
		addrs = append(addrs, &net.IPNet{IP: net.ParseIP(ip), Mask: net.CIDRMask(24, 32)})
	}
	return addrs
}

func bench(t *testing.T) Hosts {
	t.Helper()
	return HostsOf("Bench-PC", lan("192.168.7.20", "127.0.0.1", "169.254.3.3", "fe80::1", "fd00::5", "2001:db8::9"), "https://leaks.plant.test:8443/x")
}

func open(t *testing.T, dir string, h Hosts, c *clock) *Local {
	t.Helper()
	l, err := OpenLocal(dir, h, c.now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func leafOf(t *testing.T, cfg *tls.Config) *x509.Certificate {
	t.Helper()
	got, err := cfg.GetCertificate(&tls.ClientHelloInfo{})
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := x509.ParseCertificate(got.Certificate[0])
	if err != nil {
		t.Fatal(err)
	}
	return leaf
}

func pool(l *Local) *x509.CertPool {
	p := x509.NewCertPool()
	p.AddCert(l.authority.cert)
	return p
}

func TestHostsAreTheMachinesOwn(t *testing.T) {
	h := bench(t)
	for _, want := range []string{"localhost", "127.0.0.1", "::1", "bench-pc", "bench-pc.local", "192.168.7.20", "fd00::5", "leaks.plant.test", "LEAKS.plant.test"} {
		if !h.Has(want) {
			t.Errorf("missing %s in %v", want, h.Strings())
		}
	}
	for _, no := range []string{"169.254.3.3", "fe80::1", "2001:db8::9", "plant.test", ""} {
		if h.Has(no) {
			t.Errorf("%s must not be in %v", no, h.Strings())
		}
	}
	if odd := HostsOf("no good name", nil, "::"); len(odd.Names) != 1 {
		t.Errorf("names that cannot be in a certificate: %v", odd.Names)
	}
}

func TestChainVerifiesForEachHostAndNoOther(t *testing.T) {
	c := &clock{start}
	l := open(t, t.TempDir(), bench(t), c)
	leaf := leafOf(t, l.Config())
	for _, host := range bench(t).Strings() {
		if _, err := leaf.Verify(x509.VerifyOptions{Roots: pool(l), DNSName: host, CurrentTime: c.at}); err != nil {
			t.Errorf("%s: %v", host, err)
		}
	}
	for _, host := range []string{"other.test", "192.168.7.21"} {
		if leaf.VerifyHostname(host) == nil {
			t.Errorf("%s accepted", host)
		}
	}
	if life := leaf.NotAfter.Sub(leaf.NotBefore); life > 397*24*time.Hour {
		t.Errorf("lives %v", life)
	}
	if k, ok := leaf.PublicKey.(*ecdsa.PublicKey); !ok || k.Curve != elliptic.P256() {
		t.Error("not ECDSA P-256")
	}
}

// forge signs a certificate with the authority's own key for what it may not speak for.
func forge(t *testing.T, l *Local, names []string, ips []net.IP) *x509.Certificate {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	der, err := x509.CreateCertificate(rand.Reader, &x509.Certificate{
		SerialNumber: big.NewInt(7), NotBefore: start.Add(-time.Hour), NotAfter: start.Add(time.Hour),
		DNSNames: names, IPAddresses: ips, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}, l.authority.cert, &key.PublicKey, l.authority.key)
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := x509.ParseCertificate(der)
	if err != nil {
		t.Fatal(err)
	}
	return leaf
}

func TestConstraintsRefuseOtherHosts(t *testing.T) {
	l := open(t, t.TempDir(), bench(t), &clock{start})
	if !l.authority.cert.PermittedDNSDomainsCritical {
		t.Error("name constraints are not critical")
	}
	cases := map[string]*x509.Certificate{
		"another name":      forge(t, l, []string{"bank.test"}, nil),
		"the parent name":   forge(t, l, []string{"plant.test"}, nil),
		"another address":   forge(t, l, nil, []net.IP{net.ParseIP("192.168.7.21")}),
		"another IPv6":      forge(t, l, nil, []net.IP{net.ParseIP("fd00::6")}),
		"one good, one bad": forge(t, l, []string{"localhost", "bank.test"}, nil),
	}
	for name, leaf := range cases {
		_, err := leaf.Verify(x509.VerifyOptions{Roots: pool(l), CurrentTime: start})
		var invalid x509.CertificateInvalidError
		if !errors.As(err, &invalid) || invalid.Reason != x509.CANotAuthorizedForThisName {
			t.Errorf("%s: %v", name, err)
		}
	}
	good := forge(t, l, []string{"localhost"}, nil)
	if _, err := good.Verify(x509.VerifyOptions{Roots: pool(l), CurrentTime: start}); err != nil {
		t.Errorf("the same with a permitted name: %v", err)
	}
}

func TestAuthorityIsKept(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "https")
	c := &clock{start}
	first := open(t, dir, bench(t), c)
	again := open(t, dir, bench(t), c)
	if Fingerprint(first.Authority()) != Fingerprint(again.Authority()) {
		t.Error("another authority after a restart")
	}
	info, err := os.Stat(filepath.Join(dir, authorityFile))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("key file: %v %v", info.Mode(), err)
	}
	left, _ := filepath.Glob(filepath.Join(dir, "*.new"))
	if len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}

func TestNewAddressIsLeftOutAndTold(t *testing.T) {
	dir, c := t.TempDir(), &clock{start}
	open(t, dir, bench(t), c)
	moved := open(t, dir, HostsOf("bench-pc", lan("10.0.0.4"), "https://new.test"), c)
	if got := strings.Join(moved.Outside().Strings(), " "); got != "new.test 10.0.0.4" {
		t.Errorf("outside: %q", got)
	}
	leaf := leafOf(t, moved.Config())
	if _, err := leaf.Verify(x509.VerifyOptions{Roots: pool(moved), DNSName: "bench-pc", CurrentTime: c.at}); err != nil {
		t.Errorf("what is covered must still verify: %v", err)
	}
}

func TestRenewsByItself(t *testing.T) {
	c := &clock{start}
	l := open(t, t.TempDir(), bench(t), c)
	first := leafOf(t, l.Config())
	c.at = first.NotAfter.Add(-renewAt - time.Minute)
	if same := leafOf(t, l.Config()); !same.Equal(first) {
		t.Error("renewed too early")
	}
	for _, at := range []time.Time{first.NotAfter.Add(-renewAt + time.Minute), start.AddDate(-1, 0, 0)} {
		c.at = at
		next := leafOf(t, l.Config())
		if next.Equal(first) || at.Before(next.NotBefore) || at.After(next.NotAfter) {
			t.Errorf("at %v: %v to %v", at, next.NotBefore, next.NotAfter)
		}
	}
	c.at = l.authority.cert.NotAfter.Add(-time.Hour)
	last := leafOf(t, l.Config())
	if last.NotAfter.After(l.authority.cert.NotAfter) {
		t.Error("outlives its authority")
	}
	if !leafOf(t, l.Config()).Equal(last) {
		t.Error("the last certificate is issued anew at each handshake")
	}
}

func code(err error) string {
	var f *Fault
	if errors.As(err, &f) {
		return f.Code
	}
	return ""
}

func TestDamagedOrEndedAuthority(t *testing.T) {
	dir, c := t.TempDir(), &clock{start}
	open(t, dir, bench(t), c)
	_, err := OpenLocal(dir, bench(t), func() time.Time { return start.AddDate(11, 0, 0) }, rand.Reader)
	if code(err) != "authority-expired" {
		t.Errorf("ended: %v", err)
	}
	path := filepath.Join(dir, authorityFile)
	whole, _ := os.ReadFile(path)
	for _, cut := range []int{0, 10, len(whole) / 2, len(whole) - 40} {
		if err := os.WriteFile(path, whole[:cut], 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := OpenLocal(dir, bench(t), c.now, rand.Reader); code(err) != "bad-authority" {
			t.Errorf("cut at %d: %v", cut, err)
		}
	}
	if _, err := OpenLocal(path, bench(t), c.now, rand.Reader); code(err) != "https-folder" {
		t.Errorf("a file where the folder should be: %v", err)
	}
}

// The certificate is renewed while the server runs: the next handshake on the same port gets the new one.
func TestRenewsWhileServing(t *testing.T) {
	c := &clock{start}
	l := open(t, t.TempDir(), bench(t), c)
	p := openPort(t)
	p.serve(l.Config())
	serials := map[string]bool{}
	for range 3 {
		conn, err := tls.Dial("tcp", p.Addr().String(), &tls.Config{RootCAs: pool(l), ServerName: "leaks.plant.test", Time: c.now})
		if err != nil {
			t.Fatalf("%v: %v", c.at, err)
		}
		serials[conn.ConnectionState().PeerCertificates[0].SerialNumber.String()] = true
		conn.Close()
		c.at = c.at.Add(390 * 24 * time.Hour)
	}
	if len(serials) != 3 {
		t.Errorf("%d certificates in 780 days", len(serials))
	}
}

func TestHandshakeOverTLS(t *testing.T) {
	l := open(t, t.TempDir(), bench(t), &clock{time.Now()})
	ln, err := tls.Listen("tcp", "127.0.0.1:0", l.Config())
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	go func() {
		conn, err := ln.Accept()
		if err == nil {
			_, _ = conn.Write([]byte("tight"))
			conn.Close()
		}
	}()
	conn, err := tls.Dial("tcp", ln.Addr().String(), &tls.Config{RootCAs: pool(l)})
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	buf := make([]byte, 5)
	if _, err := conn.Read(buf); err != nil || string(buf) != "tight" {
		t.Errorf("%q %v", buf, err)
	}
}
