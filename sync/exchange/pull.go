package exchange

// Pull makes one slice of a site's feed as NDJSON: an event's line, its receipt, …, and at the end
// {"cursor","more"}. A cursor that is empty, of another site or of another incarnation begins at 0; max ≤ 0 means MaxSlice.
func Pull(feed Feed, site, cursor string, max int) ([]byte, error) { panic("exchange: not built yet") }
