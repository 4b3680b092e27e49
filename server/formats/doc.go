// Package formats holds no code. Its tests are the promise that the formats
// last: they open every journal, every phone's files and every store that was
// ever frozen under testdata/journals, hold what these give against what was
// expected then, and hold real lines against the published schema as an
// independent library reads it. Command freeze, below it, freezes another.
package formats
