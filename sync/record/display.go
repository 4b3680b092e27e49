package record

// byOf says who wrote an event, and when.
func byOf(e *entry) By { return By{Person: e.By, Time: e.Time, Event: e.ID, entry: e} }

// Offset is how far the sender's clock stood before the server's when the event
// arrived, in ms; 0 before a receipt came.
func (by *By) Offset() int64 {
	if by.entry == nil {
		return 0
	}
	return by.entry.offset
}

// Corrected is when a thing was done by the server's clock, in ms since 1970:
// the device's time less the offset that the receipt tells.
func (by *By) Corrected() int64 { return millis(by.Time) - by.Offset() }

// Before is the order of display: corrected time, then tick, then log. The order
// of replay leaves clocks out.
func (by *By) Before(other *By) bool {
	if a, b := by.Corrected(), other.Corrected(); a != b {
		return a < b
	}
	if by.entry == nil || other.entry == nil {
		return other.entry != nil
	}
	return before(by.entry, other.entry)
}

// Follows says whether a thing comes after another in the order of replay.
func (by *By) Follows(other *By) bool {
	return by.entry != nil && other.entry != nil && before(other.entry, by.entry)
}

// millis reads a time in journal.TimeLayout as ms since 1970, 0 when it is none.
func millis(t string) int64 {
	if len(t) != len("2006-01-02T15:04:05.000Z") {
		return 0
	}
	year, month, day := digits(t[0:4]), digits(t[5:7]), digits(t[8:10])
	seconds := (daysSince1970(year, month, day)*24+digits(t[11:13]))*3600 + digits(t[14:16])*60 + digits(t[17:19])
	return seconds*1000 + digits(t[20:23])
}

func digits(s string) int64 {
	var n int64
	for i := range len(s) {
		n = n*10 + int64(s[i]-'0')
	}
	return n
}

// daysSince1970 counts days in the Gregorian calendar. Years begin in March
// here, so that a leap day is the last of its year.
func daysSince1970(year, month, day int64) int64 {
	if month <= 2 {
		year, month = year-1, month+12
	}
	const march1970 = 719469 // days from 0000-03-01 to 1970-01-01 and one, since days count from 1
	return 365*year + year/4 - year/100 + year/400 + (153*(month-3)+2)/5 + day - march1970
}
