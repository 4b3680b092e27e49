package journal

import "time"

// Stamp writes a time as events carry it, in TimeLayout. The standard library's own way of writing and reading times knows
// so many forms that it is a noticeable part of what a phone has to load.
func Stamp(t time.Time) string {
	t = t.UTC()
	year, month, day := t.Date()
	hour, minute, second := t.Clock()
	var s [len(TimeLayout)]byte
	copy(s[:], TimeLayout)
	for _, part := range [...]struct{ at, width, value int }{
		{0, 4, year}, {5, 2, int(month)}, {8, 2, day}, {11, 2, hour}, {14, 2, minute}, {17, 2, second}, {20, 3, t.Nanosecond() / 1e6},
	} {
		for i := part.at + part.width - 1; i >= part.at; i-- {
			s[i] = byte('0' + part.value%10)
			part.value /= 10
		}
	}
	return string(s[:])
}

// Moment reads a time in TimeLayout; false for anything else.
func Moment(stamp string) (time.Time, bool) {
	if !isTime(stamp) {
		return time.Time{}, false
	}
	milli := int(stamp[20]-'0')*100 + two(stamp, 21)
	return time.Date(two(stamp, 0)*100+two(stamp, 2), time.Month(two(stamp, 5)), two(stamp, 8),
		two(stamp, 11), two(stamp, 14), two(stamp, 17), milli*1e6, time.UTC), true
}
