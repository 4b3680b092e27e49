package main

import (
	"fmt"
	"io"
	"os"

	"jointwalk/server/cert"
	"jointwalk/server/paper"
)

// greeting is what the terminal says at a start.
type greeting struct {
	out     io.Writer
	colours bool // out is a terminal
}

func newGreeting(out *os.File) greeting {
	info, err := out.Stat()
	return greeting{out, err == nil && info.Mode()&os.ModeCharDevice != 0}
}

func (g greeting) say(format string, args ...any) {
	_, _ = fmt.Fprintf(g.out, format+"\n", args...) // a closed terminal must not stop the server
}

// code draws a QR code; what cannot be drawn stands above as text anyway.
func (g greeting) code(text string) {
	if drawn, err := paper.Terminal(text, g.colours); err == nil {
		g.say("\n%s", drawn)
	}
}

func (g greeting) start(o options) {
	g.say("Jointwalk serves %s (data in %s)", o.public, o.data)
	if o.https == "off" && !o.secure() {
		g.say("Plain http: phones on other machines cannot come in. For phones: --https=local, acme or files; the README says which.")
	}
	if o.https == "acme" {
		g.say("The certificate comes from %s, by whose terms you abide. It must reach this server at port 443 of %s.", o.acme, o.host())
	}
}

// setup shows the link that makes the first person; "" when there is somebody already.
func (g greeting) setup(link string) {
	if link == "" {
		return
	}
	g.say("\nNobody is here yet. Open this link once, within 10 minutes (start again for a new one):\n\n  %s", link)
	g.code(link)
}

// trust shows how phones come to trust the installation's own authority.
func (g greeting) trust(o options, l *cert.Local) {
	g.say("\nPhones must trust this server once. Open on each phone:\n\n  %s", o.trustURL())
	g.code(o.trustURL())
	g.say("Compare there, SHA-256:\n  %s", cert.Fingerprint(l.Authority()))
	g.say("Good for: %v", l.Hosts().Strings())
	if out := l.Outside().Strings(); len(out) > 0 {
		g.say("NOT good for: %v. The authority was made before this machine had these. Phones that use them see a warning;\n"+
			"move %s/https away and start again to have a new authority, which each phone must then trust anew.", out, o.data)
	}
}
