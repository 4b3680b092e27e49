package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/netip"
	"net/url"
	"path/filepath"
	"slices"
	"strings"

	"jointwalk/server/cert"
	"jointwalk/server/copies"
)

// options are the flags, checked and completed.
type options struct {
	data    string
	listen  string
	https   string // "off", "local", "acme" or "files"
	cert    string
	key     string
	acme    string         // the directory of the authority
	proxies []netip.Prefix // in front of us, with --https=off
	public  string         // without a slash at its end
	trust   string         // where the page that says how to trust our certificate listens
	copies  string         // where the nightly copies go
	verbose bool
}

// usage is what stands above the flags.
const usage = `Usage:
  jointwalk [flags]                         serve
  jointwalk backup [--data D] FOLDER        put a copy of everything into FOLDER, also while the server runs
  jointwalk restore [--data D] COPY         put a copy into an empty or new data folder
  jointwalk invite [--data D] NAME          a way in for one more device of NAME, or for somebody new with all duties
  jointwalk check [--data D | COPY]         read everything and say whether it is whole; the server must not run
  jointwalk trail [--data D] [HASH]         who changed what of people, devices and sites; whether the trail holds together and holds HASH

Flags of serving (--data of all):
`

// errUsage says that the flags were wrong and that this has been told.
var errUsage = errors.New("wrong flags")

// readOptions reads the flags. Hostname is the machine's name, for the public address.
func readOptions(args []string, hostname string, out io.Writer) (options, error) {
	var o options
	set := flag.NewFlagSet("jointwalk", flag.ContinueOnError)
	set.SetOutput(out)
	set.Usage = func() {
		_, _ = fmt.Fprint(out, usage) // nowhere else to tell it
		set.PrintDefaults()
	}
	set.StringVar(&o.data, "data", "./data", "folder that holds everything")
	set.StringVar(&o.listen, "listen", "", "address and port (default :8080, with --https=off 127.0.0.1:8080, with --https=acme :443)")
	set.StringVar(&o.https, "https", "off", "off (this machine alone, or behind --proxy), local (a certificate authority of this installation's own),\nacme (a certificate had from an authority for the name in --url, whose terms you accept by this) or files (--cert and --key)")
	set.StringVar(&o.cert, "cert", "", "certificate in PEM form, for --https=files; taken again when it changes")
	set.StringVar(&o.key, "key", "", "its key in PEM form")
	set.StringVar(&o.acme, "acme-directory", cert.PublicDirectory, "with --https=acme: the directory of the authority, such as the plant's own")
	set.Func("proxy", "with --https=off: address of the proxy in front that makes https of it, or range of addresses; may be said more than once", o.addProxy)
	set.StringVar(&o.public, "url", "", "public address, as phones and tags reach this server (default http://localhost:PORT, with https https://HOSTNAME:PORT)")
	set.StringVar(&o.trust, "trust", ":8081", "with --https=local: address and port of the page that says how to trust the certificate")
	set.StringVar(&o.copies, "copies", "", "folder of the nightly copies, best on another disk (default copies in the data folder)")
	set.BoolVar(&o.verbose, "verbose", false, "log each request")
	if err := set.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return o, err
		}
		return o, errUsage
	}
	if set.NArg() > 0 {
		return o, fmt.Errorf("%q is no flag; see --help", set.Arg(0))
	}
	return o, o.complete(hostname)
}

// addProxy takes an address, or a range that is not simply all.
func (o *options) addProxy(text string) error {
	if address, err := netip.ParseAddr(text); err == nil {
		address = address.Unmap().WithZone("")
		o.proxies = append(o.proxies, netip.PrefixFrom(address, address.BitLen()))
		return nil
	}
	several, err := netip.ParsePrefix(text)
	if err != nil || several.Bits() < 8 || several.Addr().Is4In6() {
		return errors.New("an address such as 10.0.0.5, or a range such as 172.18.0.0/16")
	}
	o.proxies = append(o.proxies, several)
	return nil
}

func (o *options) complete(hostname string) error {
	if o.listen == "" {
		o.listen = map[string]string{"off": "127.0.0.1:8080", "acme": ":443"}[o.https]
	}
	if o.listen == "" {
		o.listen = ":8080"
	}
	if o.copies == "" {
		o.copies = filepath.Join(o.data, copies.Folder)
	}
	host, port, err := net.SplitHostPort(o.listen)
	if err != nil {
		return fmt.Errorf("--listen %s is no address and port, such as :8080", o.listen)
	}
	if err := errors.Join(o.checkHTTPS(), o.checkPlain(host)); err != nil {
		return err
	}
	if o.public == "" {
		o.public = "http://localhost:" + port
		if o.https != "off" {
			o.public = "https://" + strings.ToLower(hostname) + ":" + port
		}
	}
	return o.checkPublic()
}

func (o *options) checkHTTPS() error {
	switch {
	case !slices.Contains([]string{"off", "local", "acme", "files"}, o.https):
		return fmt.Errorf("--https is off, local, acme or files, not %q", o.https)
	case o.https == "acme" && o.public == "":
		return errors.New("--https=acme needs --url with the name that the certificate is for, such as https://leaks.example.com")
	case o.https != "acme" && o.acme != cert.PublicDirectory:
		return errors.New("--acme-directory belongs to --https=acme")
	case o.https == "files" && (o.cert == "" || o.key == ""):
		return errors.New("--https=files needs --cert and --key")
	case o.https != "files" && (o.cert != "" || o.key != ""):
		return errors.New("--cert and --key belong to --https=files")
	}
	return nil
}

// checkPlain keeps plain http, which anybody on the way can read, on this machine or behind a proxy that was named.
func (o *options) checkPlain(host string) error {
	safe := strings.HasPrefix(strings.ToLower(o.public), "https:")
	switch {
	case o.https != "off" && len(o.proxies) > 0:
		return errors.New("--proxy belongs to --https=off: with the others phones come to this server itself")
	case len(o.proxies) > 0 && !safe:
		return errors.New("--proxy needs --url with the https address that the proxy serves, such as https://leaks.example.com")
	case o.https != "off" || len(o.proxies) > 0:
		return nil
	case !ownHost(host):
		return fmt.Errorf("--https=off with --listen %s would let others in over plain http, which anybody on the way can read, and no phone would work offline; "+
			"take --https=local, or name the proxy that stands in front with --proxy ADDRESS", o.listen)
	case safe:
		return fmt.Errorf("--https=off with --url %s means that a proxy makes https of it: name its address with --proxy (127.0.0.1 when it runs on this machine)", o.public)
	}
	return nil
}

// ownHost says whether only this machine can come in there.
func ownHost(host string) bool {
	address, err := netip.ParseAddr(host)
	return host == "localhost" || err == nil && address.IsLoopback()
}

// checkPublic takes an address of scheme and host only: a path would be lost on tags, which are in upper case.
func (o *options) checkPublic() error {
	u, err := url.Parse(o.public)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Hostname() == "" || strings.Trim(u.Path, "/") != "" || u.RawQuery != "" || u.Fragment != "" || u.User != nil {
		return fmt.Errorf("--url %s is no address such as https://leaks.example:8080 (scheme, host and port, nothing after)", o.public)
	}
	if o.https != "off" && u.Scheme != "https" {
		return fmt.Errorf("--url %s must begin with https when --https=%s", o.public, o.https)
	}
	o.public = u.Scheme + "://" + strings.ToLower(u.Host)
	return nil
}

// host is the name or address that people reach the server by.
func (o options) host() string {
	u, err := url.Parse(o.public) // checked by checkPublic
	if err != nil {
		return ""
	}
	return u.Hostname()
}

// secure says whether people reach the server over https, be it by a proxy in front.
func (o options) secure() bool { return strings.HasPrefix(o.public, "https://") }

// trustURL is the address of the page that says how to trust the certificate; "" when there is none.
func (o options) trustURL() string {
	_, port, err := net.SplitHostPort(o.trust)
	if o.https != "local" || err != nil {
		return ""
	}
	return "http://" + net.JoinHostPort(o.host(), port) + "/trust"
}
