package published

// Unused are the cases that no test runs, by their ids, with the reason.
var Unused = map[string]string{}
