package cert

import (
	"crypto/tls"
	"os"
	"sync"
	"time"
)

const lookAgain = 10 * time.Second // how often at most the files are looked at

// Files serves a certificate that is kept in two PEM files by somebody else, and takes a changed pair
// by itself.
type Files struct {
	certFile, keyFile string
	now               Clock

	mu      sync.Mutex
	leaf    *tls.Certificate
	stamp   [2]stamp
	looked  time.Time
	trouble error
}

type stamp struct {
	at   time.Time
	size int64
}

// OpenFiles reads the pair, which must fit together and not be at its end. When a later pair cannot be
// read the one in use stays, and State tells why.
func OpenFiles(certFile, keyFile string, now Clock) (*Files, error) {
	f := &Files{certFile: certFile, keyFile: keyFile, now: now}
	stamps, err := f.stamps()
	if err != nil {
		return nil, err
	}
	if f.leaf, err = f.read(); err != nil {
		return nil, err
	}
	f.stamp, f.looked = stamps, now()
	return f, nil
}

// Config serves the pair.
func (f *Files) Config() *tls.Config {
	return config(func(*tls.ClientHelloInfo) (*tls.Certificate, error) { return f.certificate(), nil })
}

// State tells of the certificate in use, and what keeps a changed one from being taken.
func (f *Files) State() State {
	leaf := f.certificate().Leaf
	f.mu.Lock()
	defer f.mu.Unlock()
	return State{Leaf: leaf, Trouble: f.trouble}
}

func (f *Files) certificate() *tls.Certificate {
	f.mu.Lock()
	defer f.mu.Unlock()
	now := f.now()
	if since := now.Sub(f.looked); since >= 0 && since < lookAgain {
		return f.leaf
	}
	f.looked = now
	f.trouble = f.reload()
	return f.leaf
}

// reload takes the files if they changed. A pair that does not fit is tried again at each look, since
// one of the two may just not have been written yet.
func (f *Files) reload() error {
	stamps, err := f.stamps()
	if err != nil || stamps == f.stamp {
		return err
	}
	leaf, err := f.read()
	if err != nil {
		return err
	}
	f.leaf, f.stamp = leaf, stamps
	return nil
}

func (f *Files) stamps() (s [2]stamp, err error) {
	for i, name := range []string{f.certFile, f.keyFile} {
		info, err := os.Stat(name)
		if err != nil {
			return s, &Fault{Code: "no-certificate-file", Text: "--cert and --key must name two readable PEM files", Cause: err}
		}
		s[i] = stamp{info.ModTime(), info.Size()}
	}
	return s, nil
}

func (f *Files) read() (*tls.Certificate, error) {
	pair, err := tls.LoadX509KeyPair(f.certFile, f.keyFile)
	if err != nil {
		return nil, &Fault{Code: "bad-certificate-file", Text: f.certFile + " and " + f.keyFile + " are no certificate and key that fit together", Cause: err}
	}
	if f.now().After(pair.Leaf.NotAfter) {
		return nil, &Fault{Code: "certificate-expired", Text: f.certFile + " ended on " + pair.Leaf.NotAfter.Format(time.DateOnly)}
	}
	return &pair, nil
}
