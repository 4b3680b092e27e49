package cert

import (
	"crypto/x509"
	"testing"
	"time"
)

func TestWarnings(t *testing.T) {
	const day = 24 * time.Hour
	cases := []struct {
		life, left time.Duration
		want       Warning
		days       int
	}{
		{397 * day, 30 * day, Fine, 30},
		{397 * day, 21*day + time.Second, Fine, 21},
		{397 * day, 21 * day, Soon, 21},
		{90 * day, 21 * day, Soon, 21},
		{90 * day, 7*day + time.Second, Soon, 7},
		{90 * day, 7 * day, Urgent, 7},
		{90 * day, time.Hour, Urgent, 0},
		{90 * day, 0, Ended, 0},
		{90 * day, -time.Second, Ended, -1},
		{90 * day, -3 * day, Ended, -3},
		{6 * day, 2 * day, Fine, 2}, // renews itself at a third of its life: not late yet
		{6 * day, 36 * time.Hour, Soon, 1},
		{6 * day, 12 * time.Hour, Urgent, 0},
	}
	for _, k := range cases {
		c := &x509.Certificate{NotBefore: start.Add(k.left - k.life), NotAfter: start.Add(k.left)}
		if got := WarningAt(c, start); got != k.want || DaysLeft(c, start) != k.days {
			t.Errorf("life %v, left %v: %d, %d days", k.life, k.left, got, DaysLeft(c, start))
		}
	}
}

// No certificate that is renewed in time is ever warned of; that of an authority at its end is.
func TestStateOfLocal(t *testing.T) {
	c := &clock{start}
	l := open(t, t.TempDir(), bench(t), c)
	for range 3 * 397 {
		c.at = c.at.Add(24 * time.Hour)
		if s := l.State(); s.Trouble != nil || WarningAt(s.Leaf, c.at) != Fine || WarningAt(s.Authority, c.at) != Fine {
			t.Fatalf("%v: %+v", c.at, s)
		}
	}
	c.at = l.authority.cert.NotAfter.Add(-7 * 24 * time.Hour)
	if s := l.State(); WarningAt(s.Authority, c.at) != Urgent || DaysLeft(s.Authority, c.at) != 7 || DaysLeft(s.Leaf, c.at) != 7 {
		t.Errorf("%+v", s)
	}
}
