package cert

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"io"
	"io/fs"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	authorityYears = 10
	authorityFile  = "authority.pem" // certificate and key in one file, so that one is never without the other
)

// authority is a certificate that may sign for the hosts it was made for, and for no others.
type authority struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
}

// openAuthority reads the authority from dir, or makes it where there is none.
func openAuthority(dir string, hosts Hosts, now time.Time, random io.Reader) (*authority, error) {
	path := filepath.Join(dir, authorityFile)
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return createAuthority(path, hosts, now, random)
	case err != nil:
		return nil, &Fault{Code: "https-folder", Text: "the certificate authority cannot be read", Cause: err}
	}
	a, err := parseAuthority(data)
	if err != nil {
		return nil, &Fault{Code: "bad-authority", Cause: err,
			Text: path + " is damaged; move it away to have a new one made (each phone must then trust the new one)"}
	}
	if now.After(a.cert.NotAfter) {
		return nil, &Fault{Code: "authority-expired",
			Text: path + " ended on " + a.cert.NotAfter.Format(time.DateOnly) + "; move it away to have a new one made (each phone must then trust the new one)"}
	}
	return a, nil
}

func createAuthority(path string, hosts Hosts, now time.Time, random io.Reader) (*authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), random)
	if err != nil {
		return nil, &Fault{Code: "cannot-issue", Text: "no key could be made", Cause: err}
	}
	serial, err := serialNumber(random)
	if err != nil {
		return nil, err
	}
	template := authorityTemplate(hosts, now, serial)
	der, err := x509.CreateCertificate(random, template, template, &key.PublicKey, key)
	if err != nil {
		return nil, &Fault{Code: "cannot-issue", Text: "the certificate authority could not be made", Cause: err}
	}
	cert, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, &Fault{Code: "cannot-issue", Text: "the certificate authority could not be made", Cause: err}
	}
	a := &authority{cert: cert, key: key}
	if err := a.save(path); err != nil {
		return nil, &Fault{Code: "https-folder", Text: "the certificate authority cannot be kept", Cause: err}
	}
	return a, nil
}

func authorityTemplate(hosts Hosts, now time.Time, serial *big.Int) *x509.Certificate {
	return &x509.Certificate{
		SerialNumber:                serial,
		Subject:                     pkix.Name{CommonName: "Jointwalk " + hosts.title() + " " + serial.Text(36)[:4], Organization: []string{"Jointwalk"}},
		NotBefore:                   now.Add(-24 * time.Hour),
		NotAfter:                    now.AddDate(authorityYears, 0, 0),
		IsCA:                        true,
		BasicConstraintsValid:       true,
		MaxPathLenZero:              true,
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         hosts.Names,
		PermittedIPRanges:           single(hosts.IPs),
	}
}

// title is the first name that says which machine it is.
func (h Hosts) title() string {
	for _, n := range h.Names {
		if n != "localhost" && len(n) <= 40 {
			return n
		}
	}
	return "localhost"
}

// single makes of each address a range of one.
func single(ips []net.IP) []*net.IPNet {
	ranges := make([]*net.IPNet, len(ips))
	for i, ip := range ips {
		if v4 := ip.To4(); v4 != nil {
			ip = v4
		}
		ranges[i] = &net.IPNet{IP: ip, Mask: net.CIDRMask(8*len(ip), 8*len(ip))}
	}
	return ranges
}

func serialNumber(random io.Reader) (*big.Int, error) {
	buf := make([]byte, 16)
	if _, err := io.ReadFull(random, buf); err != nil {
		return nil, &Fault{Code: "cannot-issue", Text: "no random numbers", Cause: err}
	}
	buf[0] = buf[0]&0x7f | 0x40 // positive, and always of the same length
	return new(big.Int).SetBytes(buf), nil
}

// covers splits hosts into those that the authority may sign for and the rest.
func (a *authority) covers(hosts Hosts) (inside, outside Hosts) {
	for _, n := range hosts.Names {
		if slices.ContainsFunc(a.cert.PermittedDNSDomains, func(d string) bool { return n == d || strings.HasSuffix(n, "."+d) }) {
			inside.Names = append(inside.Names, n)
		} else {
			outside.Names = append(outside.Names, n)
		}
	}
	for _, ip := range hosts.IPs {
		if slices.ContainsFunc(a.cert.PermittedIPRanges, func(r *net.IPNet) bool { return r.Contains(ip) }) {
			inside.IPs = append(inside.IPs, ip)
		} else {
			outside.IPs = append(outside.IPs, ip)
		}
	}
	return inside, outside
}

// save writes to a file beside path, flushes and renames, so that half an authority is never found.
func (a *authority) save(path string) error {
	key, err := x509.MarshalPKCS8PrivateKey(a.key)
	if err != nil {
		return err
	}
	data := append(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.cert.Raw}),
		pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: key})...)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), "authority-*.new") // made with mode 0600
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return os.Rename(f.Name(), path)
}

func parseAuthority(data []byte) (*authority, error) {
	certBlock, rest := pem.Decode(data)
	if certBlock == nil || certBlock.Type != "CERTIFICATE" {
		return nil, errors.New("no certificate in it")
	}
	keyBlock, _ := pem.Decode(rest)
	if keyBlock == nil {
		return nil, errors.New("no key in it")
	}
	cert, err := x509.ParseCertificate(certBlock.Bytes)
	if err != nil {
		return nil, err
	}
	parsed, err := x509.ParsePKCS8PrivateKey(keyBlock.Bytes)
	if err != nil {
		return nil, err
	}
	key, ok := parsed.(*ecdsa.PrivateKey)
	if !ok || !key.PublicKey.Equal(cert.PublicKey) || !cert.IsCA {
		return nil, errors.New("certificate and key do not belong together")
	}
	return &authority{cert: cert, key: key}, nil
}
