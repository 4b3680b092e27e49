package cert

import (
	"crypto/tls"
	"net"
	"testing"
	"time"
)

// shaken is what a client with these wishes and our server agree on.
func shaken(t *testing.T, l *Local, wish *tls.Config) (tls.ConnectionState, error) {
	t.Helper()
	here, there := net.Pipe()
	defer here.Close()
	defer there.Close()
	for _, end := range []net.Conn{here, there} {
		if err := end.SetDeadline(time.Now().Add(10 * time.Second)); err != nil {
			t.Fatal(err)
		}
	}
	served := make(chan error, 1)
	server := tls.Server(there, l.Config())
	go func() { served <- server.Handshake() }()
	wish.ServerName, wish.RootCAs = "localhost", pool(l)
	client := tls.Client(here, wish)
	if err := client.Handshake(); err != nil {
		return tls.ConnectionState{}, err
	}
	return client.ConnectionState(), <-served
}

// Nothing before TLS 1.2, 1.3 where both know it, and of 1.2 no suite that RFC 9325 (4.1, 4.2) does not recommend.
func TestOldAndWeakTLSIsRefused(t *testing.T) {
	l := open(t, t.TempDir(), bench(t), &clock{time.Now()})
	for name, wish := range map[string]*tls.Config{
		"TLS 1.0":             {MinVersion: tls.VersionTLS10, MaxVersion: tls.VersionTLS10},
		"TLS 1.1":             {MinVersion: tls.VersionTLS10, MaxVersion: tls.VersionTLS11},
		"1.2 with CBC":        {MaxVersion: tls.VersionTLS12, CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_CBC_SHA, tls.TLS_ECDHE_ECDSA_WITH_AES_256_CBC_SHA}},
		"1.2 with a kept key": {MaxVersion: tls.VersionTLS12, CipherSuites: []uint16{tls.TLS_RSA_WITH_AES_128_GCM_SHA256}},
	} {
		if got, err := shaken(t, l, wish); err == nil {
			t.Errorf("%s: %s, %s", name, tls.VersionName(got.Version), tls.CipherSuiteName(got.CipherSuite))
		}
	}
	if got, err := shaken(t, l, &tls.Config{}); err != nil || got.Version != tls.VersionTLS13 {
		t.Errorf("%s, %v", tls.VersionName(got.Version), err)
	}
	for _, suite := range suites[:3] { // those of our own key
		if got, err := shaken(t, l, &tls.Config{MaxVersion: tls.VersionTLS12, CipherSuites: []uint16{suite}}); err != nil || got.CipherSuite != suite {
			t.Errorf("%s: %v", tls.CipherSuiteName(suite), err)
		}
	}
}
