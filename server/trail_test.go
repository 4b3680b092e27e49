package main

import (
	"errors"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"jointwalk/server/copies"
)

// hashIn gives the hash of the newest line that a trail was told with.
func hashIn(t *testing.T, said string) string {
	t.Helper()
	hash := regexp.MustCompile(`(?m)^  [0-9a-f]{64}$`).FindString(said)
	if hash == "" {
		t.Fatalf("no hash in %q", said)
	}
	return strings.TrimSpace(hash)
}

// The trail is read beside the running server and, by this process, in a copy: the same lines and the same hash. One
// that was noted is found again after later changes.
func TestTrailCommand(t *testing.T) {
	data := t.TempDir()
	r, ana := lit(t, data)
	said := says(t, 0, "trail", "--data", data)
	noted := hashIn(t, said)
	for _, want := range []string{`(?m)^1\t\S+Z\tthe server\tinstallation made\t$`, `(?m)^\d+\t\S+Z\tAna \(\S+\)\tperson came in`, `(?m)\tsite added\t\S.* \(\S+\)$`} {
		if !regexp.MustCompile(want).MatchString(said) {
			t.Errorf("no %s in %s", want, said)
		}
	}
	copied := copyIn(t, says(t, 0, "backup", "--data", data, t.TempDir()))
	r.call(201, "POST", "/api/invitations", ana, `{"name":"Ben","grants":{"*":["technician"]}}`)
	after := says(t, 0, "trail", "--data", data, strings.ToUpper(noted))
	if !strings.Contains(after, "The hash that was noted is that of line") || hashIn(t, after) == noted || strings.Contains(after, "Ben") {
		t.Error(after)
	}
	later := copyIn(t, says(t, 0, "backup", "--data", data, t.TempDir()))
	r.end()
	if got := says(t, 0, "trail", noted, "--data", later); got != after {
		t.Errorf("a copy:\n%s\nrunning:\n%s", got, after)
	}
	if got := says(t, 0, "trail", "--data", copied); got != said {
		t.Errorf("the copy of before:\n%s\nwhile running:\n%s", got, said)
	}
	if got := says(t, 0, "check", copied); !strings.Contains(got, ", "+noted) {
		t.Error(got)
	}
	if got := says(t, 1, "trail", "--data", copied, hashIn(t, after)); !strings.Contains(got, "BROKEN") || !strings.Contains(got, "no line has the hash") {
		t.Error(got)
	}
	says(t, 2, "trail", "--data", data, noted, noted)
	if got := says(t, 1, "trail", "--data", t.TempDir()); !strings.Contains(got, "there is no store in") {
		t.Error(got)
	}
}

// A trail from which a line was taken is told as broken, by the running server too.
func TestTrailThatIsBroken(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	r.setUp(true)
	r.end()
	db, err := bbolt.Open(filepath.Join(data, copies.StoreFile), 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error { return tx.Bucket([]byte("audits")).Delete([]byte{0, 0, 0, 0, 0, 0, 0, 2}) })
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	const want = "line of the trail 2 is missing, 3 comes instead"
	if said := says(t, 1, "trail", "--data", data); !strings.Contains(said, "BROKEN") || !strings.Contains(said, want) {
		t.Error(said)
	}
	if said := says(t, 1, "check", "--data", data); !strings.Contains(said, want) {
		t.Error(said)
	}
}
