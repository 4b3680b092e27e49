package web

import (
	"net/http"
	"net/netip"
	"slices"
	"strings"
)

// Behind stands before a server on plain http that a proxy makes https of. It lets in what comes from one of the
// proxies, or from this machine, and nothing else: what others send over plain http could be read on its way. A
// request of a proxy counts as that of the visitor whom the proxy names in X-Forwarded-For; nobody else is believed.
// Public is the address that others are sent to.
func Behind(proxies []netip.Prefix, public string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		peer, known := addressOf(r.RemoteAddr)
		switch {
		case known && among(proxies, peer):
			r.RemoteAddr = visitorBehind(proxies, peer, r.Header.Values("X-Forwarded-For")).String()
		case !known || !peer.IsLoopback():
			http.Error(w, "Only the proxy of this server may come here. Open "+public, http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// visitorBehind is the last address in the list that is none of the proxies': each adds the one that it was called
// from at the end, and what stands before may be invented. What is no address ends the list.
func visitorBehind(proxies []netip.Prefix, peer netip.Addr, lists []string) netip.Addr {
	named := strings.Split(strings.Join(lists, ","), ",")
	for _, name := range slices.Backward(named) {
		address, known := addressOf(strings.TrimSpace(name))
		if !known {
			return peer
		}
		if peer = address; !among(proxies, peer) {
			return peer
		}
	}
	return peer
}

func among(proxies []netip.Prefix, address netip.Addr) bool {
	return slices.ContainsFunc(proxies, func(p netip.Prefix) bool { return p.Contains(address) })
}

// addressOf reads an address with or without a port.
func addressOf(text string) (netip.Addr, bool) {
	if both, err := netip.ParseAddrPort(text); err == nil {
		return both.Addr().Unmap().WithZone(""), true
	}
	address, err := netip.ParseAddr(strings.Trim(text, "[]"))
	return address.Unmap().WithZone(""), err == nil
}
