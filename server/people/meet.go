package people

import (
	"errors"
	"slices"
	"strings"
	"time"

	"jointwalk/server/store"
)

// Met is what the server makes of a device that says which log it writes.
type Met struct {
	Foreign bool      // the log is another device's: this one must begin a new one
	Lost    []LostLog // logs of this device that ended with events that the server lacks; nil for none
}

// LostLog is a log that its device no longer knows of and that ended beyond what the server holds.
type LostLog struct {
	Device     string    `json:"device"`
	DeviceName string    `json:"deviceName"`
	Person     string    `json:"person"`
	Log        string    `json:"log"`
	Told       uint64    `json:"told"` // the highest seq that the device told of
	Upto       uint64    `json:"upto"` // what the server held then
	At         time.Time `json:"at"`   // when it was noticed
}

// logRow says which device writes a log.
type logRow struct {
	Device string `json:"device"`
}

// phone is what a device told of itself.
type phone struct {
	Seen string `json:"seen"` // the day, in UTC
	Logs []told `json:"logs"`
}

// told is a log and the highest seq that was told while the server lacked it.
type told struct {
	Log string `json:"log"`
	Seq uint64 `json:"seq"`
}

// dayLayout is how a day is kept.
const dayLayout = "2006-01-02"

// Meet takes in what a device tells of itself: the log that it writes ("" for none), its last seq there, and the earlier
// logs that it still knows of. Logs that nobody told of are its own from now on: the first to tell wins. upto gives
// what the server holds of a log. Nothing is written unless something is new. Error: UnknownDevice, or upto's.
func (g *Gate) Meet(device, log string, seq uint64, earlier []string, upto func(log string) (uint64, error)) (Met, error) {
	m := &meeting{device: device, log: log, seq: seq, earlier: earlier, now: g.now().UTC(), held: map[string]uint64{}}
	if err := g.rows.View(m.look); err != nil || m.met.Foreign {
		return m.met, err
	}
	if err := m.ask(upto); err != nil {
		return Met{}, err
	}
	if m.settle(); !m.changed {
		return m.met, nil
	}
	if err := unlessNothing(g.keepMeeting(m)); err != nil {
		return Met{}, err
	}
	return m.met, nil
}

// keepMeeting looks again within the change, since another request of the device may have come between.
func (g *Gate) keepMeeting(m *meeting) error {
	again := func(w store.RowWriter) error {
		if err := m.look(w); err != nil {
			return err
		}
		if m.settle(); m.met.Foreign || !m.changed {
			return errNothing
		}
		return m.keep(w)
	}
	if len(m.news) > 0 {
		return g.change(m.owner.Person, strings.Join(m.news, ", "), m.device, again)
	}
	return g.rows.Keep(again)
}

// meeting is one call of Meet.
type meeting struct {
	device, log string
	seq         uint64
	earlier     []string
	now         time.Time
	held        map[string]uint64 // log → what the server holds, as far as it was asked

	owner   Device
	phone   phone
	mine    []string           // logs that nobody told of before
	known   map[string]LostLog // those noticed before
	changed bool
	news    []string // for the audit
	met     Met
}

// look reads what is known of the device and of the logs that it names.
func (m *meeting) look(r store.RowReader) error {
	m.owner, m.phone, m.mine, m.known, m.met = Device{}, phone{}, nil, map[string]LostLog{}, Met{}
	if err := get(r, tableDevices, m.device, &m.owner); err != nil {
		return orElse(err, UnknownDevice)
	}
	if err := maybe(get(r, tablePhones, m.device, &m.phone)); err != nil {
		return err
	}
	for _, log := range m.named() {
		var row logRow
		err := get(r, tableLogs, log, &row)
		switch {
		case errors.Is(err, store.ErrNoRow):
			m.mine = append(m.mine, log)
		case err != nil:
			return err
		case row.Device != m.device && log == m.log:
			m.met.Foreign = true
		}
	}
	return m.lookForLost(r)
}

// named are the logs that the device tells of.
func (m *meeting) named() (logs []string) {
	for _, log := range append([]string{m.log}, m.earlier...) {
		if log != "" && !slices.Contains(logs, log) {
			logs = append(logs, log)
		}
	}
	return logs
}

// lookForLost reads what was noticed of the device's logs before.
func (m *meeting) lookForLost(r store.RowReader) error {
	for _, t := range m.phone.Logs {
		var row LostLog
		err := get(r, tableLost, t.Log, &row)
		if err == nil {
			m.known[t.Log] = row
		}
		if err := maybe(err); err != nil {
			return err
		}
	}
	return nil
}

// maybe lets a row be absent.
func maybe(err error) error {
	if errors.Is(err, store.ErrNoRow) {
		return nil
	}
	return err
}

// ask finds out what the server holds of the device's logs.
func (m *meeting) ask(upto func(log string) (uint64, error)) error {
	logs := m.mine
	for _, t := range m.phone.Logs {
		logs = append(logs, t.Log)
	}
	for _, log := range logs {
		held, err := upto(log)
		if err != nil {
			return err
		}
		m.held[log] = held
	}
	return nil
}

// settle draws the conclusions: what to keep, and whether that is anything new.
func (m *meeting) settle() {
	day := m.now.Format(dayLayout)
	m.changed, m.phone.Seen = m.phone.Seen != day, day
	m.news, m.met.Lost = nil, nil
	for _, log := range m.mine {
		m.phone.Logs = append(m.phone.Logs, told{Log: log})
		m.tell("log begun", log)
	}
	named := m.named()
	for i := range m.phone.Logs {
		t := &m.phone.Logs[i]
		held, asked := m.held[t.Log]
		switch {
		case slices.Contains(named, t.Log):
			m.here(t, held)
		case asked && t.Seq > held:
			m.miss(t, held)
		}
	}
}

// tell notes something for the audit.
func (m *meeting) tell(what, log string) {
	m.changed, m.news = true, append(m.news, what+" "+log)
}

// here takes in a log that the device tells of. A seq that the server holds need not be remembered.
func (m *meeting) here(t *told, held uint64) {
	if t.Log == m.log && m.seq > max(t.Seq, held) {
		t.Seq, m.changed = m.seq, true
	}
	if _, noticed := m.known[t.Log]; noticed {
		m.tell("log found again", t.Log)
	}
}

// miss takes in a log that the device no longer tells of and that ended beyond what the server holds.
func (m *meeting) miss(t *told, held uint64) {
	row, noticed := m.known[t.Log]
	if !noticed {
		row = LostLog{Device: m.device, DeviceName: m.owner.Name, Person: m.owner.Person, Log: t.Log, Told: t.Seq, Upto: held, At: m.now}
		m.tell("log lost", t.Log)
	}
	m.met.Lost = append(m.met.Lost, row)
}

// keep writes it all.
func (m *meeting) keep(w store.RowWriter) error {
	for _, log := range m.mine {
		if err := put(w, tableLogs, log, logRow{m.device}); err != nil {
			return err
		}
	}
	for _, log := range m.named() {
		if _, noticed := m.known[log]; noticed {
			if err := w.Drop(tableLost, log); err != nil {
				return err
			}
		}
	}
	for _, row := range m.met.Lost {
		if err := put(w, tableLost, row.Log, row); err != nil {
			return err
		}
	}
	return put(w, tablePhones, m.device, m.phone)
}

// Writer gives the device that writes a log; false for a log that no device told of.
func (g *Gate) Writer(log string) (device string, known bool, err error) {
	var row logRow
	err = g.rows.View(func(r store.RowReader) error { return get(r, tableLogs, log, &row) })
	if errors.Is(err, store.ErrNoRow) {
		return "", false, nil
	}
	return row.Device, err == nil, err
}

// Lost lists the logs that ended with events that the server lacked, by their ids, so by the time they were begun. A log
// that its device tells of again is lost no more.
func (g *Gate) Lost() ([]LostLog, error) { return all[LostLog](g.rows, tableLost) }
