// Package formats holds no code. Its tests are the promise that the formats
// last: they hold real lines against the published schema as an independent
// library reads it. Command freeze, below it, keeps what later builds must still
// read.
package formats
