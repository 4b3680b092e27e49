package people

import (
	"crypto/rand"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/memory"
)

// Whatever stands in a row, reading it is an error or a value, never a panic.
func FuzzRows(f *testing.F) {
	for _, row := range []string{
		`{"id":"x","person":"x","people":["x"],"name":"Phone","made":"2026-01-02T03:04:05Z","revoked":"2026-01-02T03:04:05Z"}`,
		`{"person":"x","device":"x","made":"2026-01-02T03:04:05Z"}`, `{"device":"x"}`, `{"seen":"2026-03-02","logs":[{"log":"x","seq":5}]}`,
		`{"id":"x","name":"n","grants":{"*":["technician"]}}`, `{"installation":"x"}`, `{"key":"AAAA"}`, `{"logs":[{"log":"","seq":5}]}`,
		`{"name":"n","link":"","typed":"","wrong":-1,"expires":"2026-01-02T03:04:05Z"}`, `null`, `[]`, `{`, ``, `{"logs":null}`, `"x"`,
	} {
		f.Add(0, []byte(row))
		f.Add(2, []byte(row))
		f.Add(7, []byte(row))
	}
	tables := []string{tablePeople, tableDevices, tableSessions, tableInvitations, tableSites, tableSelf, tableLogs, tablePhones, tableLost}
	f.Fuzz(func(t *testing.T, table int, row []byte) {
		rows := memory.NewRows()
		at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
		g, err := New(rows, func() time.Time { return at }, rand.Reader)
		if err != nil {
			t.Fatal(err)
		}
		v, token, err := g.Setup(g.SetupCode(), "Somebody", "Desk")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := g.Meet(v.Device.ID, "x", 9, nil, holds(nil)); err != nil {
			t.Fatal(err)
		}
		name := tables[uint(table)%uint(len(tables))]
		err = rows.Keep(func(w store.RowWriter) error {
			for _, id := range []string{"x", v.Person.ID, v.Device.ID, hash(token), "ABC", "installation", "receipt-key"} {
				if err := w.Put(name, id, row); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		readEverything(g, v, token)
		_, _ = New(rows, time.Now, rand.Reader)
	})
}

// readEverything calls all that reads rows.
func readEverything(g *Gate, v Visit, token string) {
	_, _ = g.Session(token)
	_, _ = g.People()
	_, _ = g.Devices()
	_, _ = g.Sites()
	_, _ = g.Pending()
	_, _ = g.Lost()
	_, _, _ = g.Writer("x")
	_, _ = g.Enrolled(v.Device.ID)
	_, _ = g.Meet(v.Device.ID, "y", 1, []string{"z"}, holds(nil))
	_, _ = g.ChangePerson("by", v.Person.ID, Everywhere(Technician))
	_, _, _ = g.Pair("ABCXXXXXXX", "Phone")
	_ = g.Revoke("by", v.Device.ID)
	_ = g.Leave(token)
}
