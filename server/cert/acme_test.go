package cert

import (
	"bytes"
	"crypto/tls"
	"crypto/x509"
	"io"
	"io/fs"
	"log"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/letsencrypt/pebble/v2/ca"
	"github.com/letsencrypt/pebble/v2/db"
	"github.com/letsencrypt/pebble/v2/va"
	"github.com/letsencrypt/pebble/v2/wfe"
	"github.com/miekg/dns"
)

const plantName = "leaks.plant.example"

// authorityOfThePlant is a whole ACME server (pebble: the general-purpose one for tests), which looks up names at a
// name server of ours and comes to the port of ours to see whether the name is ours.
type authorityOfThePlant struct {
	directory string
	network   http.RoundTripper
	roots     *x509.CertPool
}

func plantAuthority(t *testing.T, port int) authorityOfThePlant {
	t.Helper()
	t.Setenv("PEBBLE_VA_NOSLEEP", "1")
	quiet := log.New(io.Discard, "", 0)
	kept := db.NewMemoryStore()
	signer := ca.New(quiet, kept, "", "ecdsa", 0, 1, map[string]ca.Profile{"default": {ValidityPeriod: 90 * 86400}})
	front := wfe.New(quiet, kept, va.New(quiet, port, port, true, nameServer(t), kept), signer, []string{"authority.example"}, true, false, 1, 1)
	served := httptest.NewUnstartedServer(front.Handler())
	served.Config.ErrorLog = quiet
	served.StartTLS()
	t.Cleanup(served.Close)
	roots := x509.NewCertPool()
	roots.AddCert(signer.GetRootCert(0).Cert)
	return authorityOfThePlant{served.URL + wfe.DirectoryPath, served.Client().Transport, roots}
}

// nameServer says that the plant's name is this machine, and knows no other.
func nameServer(t *testing.T) string {
	t.Helper()
	port, err := net.Listen("tcp", "127.0.0.1:0") // as pebble asks
	if err != nil {
		t.Fatal(err)
	}
	served := &dns.Server{Listener: port, Handler: dns.HandlerFunc(func(w dns.ResponseWriter, asked *dns.Msg) {
		answer := new(dns.Msg).SetReply(asked)
		if q := asked.Question[0]; q.Qtype == dns.TypeA && q.Name == plantName+"." {
			answer.Answer = []dns.RR{&dns.A{Hdr: dns.RR_Header{Name: q.Name, Rrtype: dns.TypeA, Class: dns.ClassINET, Ttl: 1}, A: net.IPv4(127, 0, 0, 1)}}
		}
		_ = w.WriteMsg(answer)
	})}
	go func() { _ = served.ActivateAndServe() }()
	t.Cleanup(func() { _ = served.Shutdown() })
	return port.Addr().String()
}

// port is where ours listens; its certificate comes once there is a source.
type port struct {
	net.Listener
	config *tls.Config
}

func openPort(t *testing.T) *port {
	t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = ln.Close() })
	return &port{Listener: ln}
}

func (p *port) number() int { return p.Addr().(*net.TCPAddr).Port }

func (p *port) serve(c *tls.Config) {
	p.config = c
	server := &http.Server{TLSConfig: c, ErrorLog: log.New(io.Discard, "", 0), Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, "tight") })}
	go func() { _ = server.ServeTLS(p.Listener, "", "") }()
}

// shake gives the certificate that a browser would get and accept.
func (p *port) shake(roots *x509.CertPool) (*x509.Certificate, error) {
	conn, err := tls.Dial("tcp", p.Addr().String(), &tls.Config{RootCAs: roots, ServerName: plantName})
	if err != nil {
		return nil, err
	}
	defer conn.Close()
	return conn.ConnectionState().PeerCertificates[0], nil
}

func openACME(t *testing.T, dir string, from authorityOfThePlant, c *clock) *ACME {
	t.Helper()
	a, err := OpenACME(dir, plantName, from.directory, c.now, from.network)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestACMECertificate(t *testing.T) {
	dir, p, c := filepath.Join(t.TempDir(), "acme"), openPort(t), &clock{time.Now()}
	from := plantAuthority(t, p.number())
	a := openACME(t, dir, from, c)
	p.serve(a.Config())
	if _, err := p.shake(from.roots); err == nil || a.State().Leaf != nil {
		t.Error("a certificate before one was had, or a visitor made us ask")
	}
	a.Obtain()
	leaf, err := p.shake(from.roots)
	if err != nil {
		t.Fatalf("%v; %v", err, a.State().Trouble)
	}
	if s := a.State(); s.Leaf == nil || !s.Leaf.Equal(leaf) || s.Trouble != nil || s.Authority != nil {
		t.Errorf("%+v", s)
	}
	if err := leaf.VerifyHostname(plantName); err != nil {
		t.Error(err)
	}
	ownerOnly(t, dir)

	again := openACME(t, dir, authorityOfThePlant{directory: "https://127.0.0.1:1/directory", network: http.DefaultTransport}, c)
	if again.Obtain(); again.State().Leaf == nil || !again.State().Leaf.Equal(leaf) {
		t.Errorf("after a restart, with the authority away: %+v", again.State())
	}
}

// ownerOnly wants a folder with files that nobody but their owner can read, one of them the key.
func ownerOnly(t *testing.T, dir string) {
	t.Helper()
	keys := 0
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := entry.Info()
		if err == nil && info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s: %v", path, info.Mode())
		}
		if data, err := os.ReadFile(path); err == nil && bytes.Contains(data, []byte("PRIVATE KEY")) {
			keys++
		}
		return err
	})
	if err != nil || keys == 0 {
		t.Errorf("%d keys, %v", keys, err)
	}
}

func TestACMEFolderIsClosedToOthers(t *testing.T) {
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	openACME(t, dir, authorityOfThePlant{directory: "https://ca.plant.example/directory"}, &clock{start})
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("%v %v", info.Mode(), err)
	}
}

// One that is kept and in its last third is served on, and renewed in the background by the library.
func TestACMERenewsByItself(t *testing.T) {
	dir, p, c := t.TempDir(), openPort(t), &clock{time.Now()}
	from := plantAuthority(t, p.number())
	old := keptNearItsEnd(t, dir, c.at)
	a := openACME(t, dir, from, c)
	p.serve(a.Config())
	a.Obtain()
	for end := time.Now().Add(time.Minute); a.State().Leaf == nil || a.State().Leaf.Equal(old); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("not renewed")
		}
	}
	leaf, err := p.shake(from.roots)
	if err != nil || DaysLeft(leaf, c.at) < 80 {
		t.Errorf("%v, %v", leaf, err)
	}
}

// keptNearItsEnd puts a certificate of ninety days that ends in five into dir, as autocert keeps it: the key, then the chain.
func keptNearItsEnd(t *testing.T, dir string, now time.Time) *x509.Certificate {
	t.Helper()
	signer := &clock{now.Add(-85 * 24 * time.Hour)}
	l := open(t, t.TempDir(), HostsOf("bench", nil, "https://"+plantName), signer)
	l.authority.cert.NotAfter = now.Add(5 * 24 * time.Hour)
	pair, err := l.issue(signer.at)
	if err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, plantName), append(keyPEM(t, pair), certPEM(pair)...), now)
	return pair.Leaf
}

// An authority that does not find us is asked again after a while only, and says what was wrong.
func TestACMEThatFails(t *testing.T) {
	asked := 0
	away := httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		asked++
		w.WriteHeader(http.StatusForbidden)
	}))
	defer away.Close()
	c := &clock{start}
	a := openACME(t, t.TempDir(), authorityOfThePlant{directory: away.URL, network: away.Client().Transport}, c)
	a.Obtain()
	first := asked
	if s := a.State(); s.Leaf != nil || code(s.Trouble) != "acme-refused" || !strings.Contains(s.Trouble.Error(), "port 443 of "+plantName) {
		t.Errorf("%+v", s)
	}
	if _, err := a.certificate(&tls.ClientHelloInfo{ServerName: plantName}); code(err) != "acme-waiting" {
		t.Errorf("%v", err)
	}
	c.at = c.at.Add(obtainAgain - time.Second)
	if a.Obtain(); first == 0 || asked != first || a.due() { // the library itself keeps a failure for a minute of its own clock
		t.Errorf("asked %d times, then %d; due again %v", first, asked, a.due())
	}
	c.at = c.at.Add(time.Second)
	if !a.due() {
		t.Error("never tried again")
	}
}

// A name that is not ours is not had: the authority comes to look, and finds somebody else.
func TestACMEProvesTheName(t *testing.T) {
	p, c := openPort(t), &clock{time.Now()}
	from := plantAuthority(t, p.number())
	p.serve(config(open(t, t.TempDir(), bench(t), c).Config().GetCertificate)) // somebody else listens there
	a := openACME(t, t.TempDir(), from, c)
	a.Obtain()
	if s := a.State(); s.Leaf != nil || code(s.Trouble) != "acme-refused" || !strings.Contains(s.Trouble.Error(), "tls-alpn-01") {
		t.Errorf("it says not what the authority found: %v", s.Trouble)
	}
}

// A renewal that fails is told with its reason, while the certificate in use goes on.
func TestACMERenewalThatFails(t *testing.T) {
	dir, c := t.TempDir(), &clock{time.Now()}
	away := httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/problem+json")
		w.WriteHeader(http.StatusForbidden)
		_, _ = io.WriteString(w, `{"type":"urn:ietf:params:acme:error:unauthorized","detail":"closed for the holidays"}`)
	}))
	defer away.Close()
	old := keptNearItsEnd(t, dir, c.at)
	a := openACME(t, dir, authorityOfThePlant{directory: away.URL, network: away.Client().Transport}, c)
	a.Obtain()
	for end := time.Now().Add(time.Minute); a.State().Trouble == nil; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("nothing told")
		}
	}
	if s := a.State(); s.Leaf == nil || !s.Leaf.Equal(old) || !strings.Contains(s.Trouble.Error(), "closed for the holidays") {
		t.Errorf("%+v", s)
	}
}

// answers is a network that gives one answer after another.
type answers []*http.Response

func (a *answers) RoundTrip(*http.Request) (*http.Response, error) {
	next := (*a)[0]
	*a = (*a)[1:]
	return next, nil
}

// A complaint is kept until a certificate is issued, and the library gets each body whole.
func TestHearing(t *testing.T) {
	steps := []struct{ kind, body, heard string }{
		{"application/json", `{"status":"pending"}`, ""},
		{"application/problem+json; charset=utf-8", `{"detail":"closed"}`, "closed"},
		{"application/json", `{"status":"processing"}`, "closed"},
		{"application/pem-certificate-chain", "-----BEGIN", ""},
	}
	var network answers
	for _, s := range steps {
		network = append(network, &http.Response{Header: http.Header{"Content-Type": {s.kind}}, Body: io.NopCloser(strings.NewReader(s.body))})
	}
	h := &hearing{next: &network}
	for _, s := range steps {
		answer, err := h.RoundTrip(httptest.NewRequest("POST", "https://ca.plant.example", nil))
		if err != nil {
			t.Fatal(err)
		}
		if body, err := io.ReadAll(answer.Body); err != nil || string(body) != s.body || h.heard() != s.heard {
			t.Errorf("%+v: %q, heard %q, %v", s, body, h.heard(), err)
		}
	}
}

func TestComplaints(t *testing.T) {
	for body, want := range map[string]string{
		`{"type":"urn:ietf:params:acme:error:rateLimited","detail":"too many"}`:                                        "too many",
		`{"type":"urn:ietf:params:acme:error:badNonce","detail":"old"}`:                                                "",
		`{"status":"invalid","challenges":[{"type":"http-01"},{"type":"tls-alpn-01","error":{"detail":"no answer"}}]}`: "no answer",
		`{"status":"pending","challenges":[{"type":"tls-alpn-01"}]}`:                                                   "",
		`[]`: "", `half`: "",
	} {
		if got := complaint([]byte(body)); got != want {
			t.Errorf("%s: %q", body, got)
		}
	}
}

func TestACMENames(t *testing.T) {
	const plants = "https://ca.plant.example/directory"
	cases := []struct{ host, directory, code, says string }{
		{"leaks.plant.com", PublicDirectory, "", ""},
		{"localhost", PublicDirectory, "acme-name", "--https=local"},
		{"x.localhost", plants, "acme-name", "--https=local"},
		{"192.168.7.20", PublicDirectory, "acme-name", "address"},
		{"fd00::5", plants, "acme-name", "address"},
		{"bench-pc", plants, "acme-name", "no full name"},
		{"bench-pc.local", PublicDirectory, "acme-name", "--acme-directory"},
		{"leaks.plant.home.arpa", PublicDirectory, "acme-name", "--acme-directory"},
		{"bench-pc.local", plants, "", ""},
		{"leaks.plant.com", "http://ca.plant.example/directory", "acme-directory", "https://"},
		{"leaks.plant.com", "ca.plant.example", "acme-directory", "https://"},
	}
	for _, k := range cases {
		_, err := OpenACME(filepath.Join(t.TempDir(), "acme"), k.host, k.directory, time.Now, nil)
		if code(err) != k.code || err != nil && !strings.Contains(err.Error(), k.says) {
			t.Errorf("%s at %s: %v", k.host, k.directory, err)
		}
		if err != nil && k.code == "acme-name" && !strings.Contains(err.Error(), "--url") {
			t.Errorf("%s: says not what to do: %v", k.host, err)
		}
	}
}

func TestACMEFolderThatIsNone(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	write(t, file, []byte("no folder"), start)
	if _, err := OpenACME(file, plantName, "https://ca.plant.example", time.Now, nil); code(err) != "https-folder" {
		t.Errorf("%v", err)
	}
}

// Where the authority that was named points elsewhere, nobody is asked there.
func TestACMEFollowsNoRedirect(t *testing.T) {
	asked := 0
	other := httptest.NewTLSServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { asked++ }))
	defer other.Close()
	named := httptest.NewTLSServer(http.RedirectHandler(other.URL, http.StatusFound))
	defer named.Close()
	network := named.Client().Transport.(*http.Transport)
	network.TLSClientConfig.RootCAs.AddCert(other.Certificate())
	a, err := OpenACME(t.TempDir(), plantName, named.URL, time.Now, network)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := a.manager.Client.HTTPClient.Get(named.URL)
	if err != nil {
		t.Fatal(err)
	}
	if err := answer.Body.Close(); err != nil || asked != 0 || answer.StatusCode != http.StatusFound {
		t.Errorf("%d, asked %d times elsewhere, %v", answer.StatusCode, asked, err)
	}
}
