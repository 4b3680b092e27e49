package cert

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// writePair puts a fresh certificate and key into dir, stamped at.
func writePair(t *testing.T, dir string, at time.Time) (certFile, keyFile string) {
	t.Helper()
	l := open(t, t.TempDir(), bench(t), &clock{start})
	pair, err := l.certificate()
	if err != nil {
		t.Fatal(err)
	}
	certFile, keyFile = filepath.Join(dir, "c.pem"), filepath.Join(dir, "k.pem")
	write(t, certFile, certPEM(pair), at)
	write(t, keyFile, keyPEM(t, pair), at)
	return certFile, keyFile
}

func certPEM(pair *tls.Certificate) []byte {
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: pair.Certificate[0]})
}

func keyPEM(t *testing.T, pair *tls.Certificate) []byte {
	t.Helper()
	key, err := x509.MarshalPKCS8PrivateKey(pair.PrivateKey)
	if err != nil {
		t.Fatal(err)
	}
	return pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: key})
}

func write(t *testing.T, name string, data []byte, at time.Time) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(name, at, at); err != nil {
		t.Fatal(err)
	}
}

func TestFilesAreReloadedWhenChanged(t *testing.T) {
	dir, c := t.TempDir(), &clock{start}
	certFile, keyFile := writePair(t, dir, start)
	f, err := OpenFiles(certFile, keyFile, c.now)
	if err != nil {
		t.Fatal(err)
	}
	first := leafOf(t, f.Config())

	writePair(t, dir, start.Add(time.Minute))
	if !leafOf(t, f.Config()).Equal(first) {
		t.Error("looked again too soon")
	}
	c.at = c.at.Add(lookAgain)
	second := leafOf(t, f.Config())
	if second.Equal(first) {
		t.Fatal("the changed pair was not taken")
	}

	write(t, keyFile, []byte("half a ke"), start.Add(2*time.Minute))
	c.at = c.at.Add(lookAgain)
	if s := f.State(); !s.Leaf.Equal(second) || !leafOf(t, f.Config()).Equal(second) || code(s.Trouble) != "bad-certificate-file" {
		t.Errorf("a bad pair must be told and the good one kept: %v", s.Trouble)
	}
	if err := os.Remove(keyFile); err != nil {
		t.Fatal(err)
	}
	c.at = c.at.Add(lookAgain)
	if s := f.State(); !s.Leaf.Equal(second) || code(s.Trouble) != "no-certificate-file" {
		t.Errorf("a missing file must be told and the good pair kept: %v", s.Trouble)
	}
	writePair(t, dir, start.Add(3*time.Minute))
	c.at = c.at.Add(lookAgain)
	if s := f.State(); s.Leaf.Equal(second) || s.Trouble != nil {
		t.Errorf("did not recover: %v", s.Trouble)
	}
}

func TestFilesRefusedAtStart(t *testing.T) {
	dir := t.TempDir()
	certFile, keyFile := writePair(t, dir, start)
	now := func() time.Time { return start }
	if _, err := OpenFiles(filepath.Join(dir, "none.pem"), keyFile, now); code(err) != "no-certificate-file" {
		t.Errorf("missing: %v", err)
	}
	if _, err := OpenFiles(certFile, certFile, now); code(err) != "bad-certificate-file" {
		t.Errorf("no key: %v", err)
	}
	late := func() time.Time { return start.AddDate(2, 0, 0) }
	if _, err := OpenFiles(certFile, keyFile, late); code(err) != "certificate-expired" {
		t.Errorf("ended: %v", err)
	}
	other, _ := writePair(t, t.TempDir(), start)
	if _, err := OpenFiles(other, keyFile, now); code(err) != "bad-certificate-file" {
		t.Errorf("another's key: %v", err)
	}
}
