package cert

import (
	"net"
	"net/url"
	"os"
	"slices"
	"strings"
)

// Hosts is what a certificate may stand for: lower-case names and addresses, sorted, each once.
type Hosts struct {
	Names []string
	IPs   []net.IP
}

// Machine collects what this machine is reached by: its name, name.local, localhost, its addresses
// in the local network, and the host of the public address (which may be empty).
func Machine(public string) (Hosts, error) {
	name, err := os.Hostname()
	if err != nil {
		return Hosts{}, &Fault{Code: "no-host-name", Text: "this machine does not tell its own name", Cause: err}
	}
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return Hosts{}, &Fault{Code: "no-addresses", Text: "this machine does not tell its network addresses", Cause: err}
	}
	return HostsOf(name, addrs, public), nil
}

// HostsOf is Machine with everything given. Names that cannot stand in a certificate are left out.
func HostsOf(name string, addrs []net.Addr, public string) Hosts {
	var h Hosts
	h.add("localhost")
	h.add("127.0.0.1")
	h.add("::1")
	h.addMachine(name)
	for _, a := range addrs {
		if n, ok := a.(*net.IPNet); ok && lasting(n.IP) {
			h.add(n.IP.String())
		}
	}
	if u, err := url.Parse(public); err == nil {
		h.add(u.Hostname())
	}
	h.sort()
	return h
}

func (h *Hosts) addMachine(name string) {
	h.add(name)
	short, _, _ := strings.Cut(name, ".")
	if net.ParseIP(name) == nil && short != "localhost" && nameLike(strings.ToLower(short)) {
		h.add(short + ".local")
	}
}

// Has tells whether the name or address is among the hosts.
func (h Hosts) Has(host string) bool {
	if ip := net.ParseIP(host); ip != nil {
		return slices.ContainsFunc(h.IPs, ip.Equal)
	}
	return slices.Contains(h.Names, strings.ToLower(host))
}

// Strings lists names, then addresses.
func (h Hosts) Strings() []string {
	all := slices.Clone(h.Names)
	for _, ip := range h.IPs {
		all = append(all, ip.String())
	}
	return all
}

func (h *Hosts) add(host string) {
	host = strings.TrimSuffix(strings.ToLower(host), ".")
	if ip := net.ParseIP(host); ip != nil {
		if !slices.ContainsFunc(h.IPs, ip.Equal) {
			h.IPs = append(h.IPs, ip)
		}
		return
	}
	if nameLike(host) && !slices.Contains(h.Names, host) {
		h.Names = append(h.Names, host)
	}
}

func (h *Hosts) sort() {
	slices.Sort(h.Names)
	slices.SortFunc(h.IPs, func(a, b net.IP) int { return slices.Compare(a.To16(), b.To16()) })
}

// lasting leaves out loopback (added by name), link-local addresses and public IPv6 addresses, which
// change by themselves every few hours.
func lasting(ip net.IP) bool {
	if ip.IsLoopback() || ip.IsLinkLocalUnicast() || !ip.IsGlobalUnicast() {
		return false
	}
	return ip.To4() != nil || ip.IsPrivate()
}

// nameLike admits letters, digits, hyphens and underscores in dotted labels of 1 to 63 characters.
func nameLike(name string) bool {
	if name == "" || len(name) > 253 {
		return false
	}
	for label := range strings.SplitSeq(name, ".") {
		if label == "" || len(label) > 63 || strings.Trim(label, "abcdefghijklmnopqrstuvwxyz0123456789-_") != "" {
			return false
		}
	}
	return true
}
