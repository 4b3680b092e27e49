// Package storetest holds the laws of the stores as tests: every implementation runs the same.
package storetest
