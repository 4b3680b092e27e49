package main

import (
	"encoding/binary"
	"errors"
)

// Sections and the name subsection of a WebAssembly module (core
// specification, chapter 5 and appendix "Custom Sections").
const (
	custom        = 0
	importSection = 2
	codeSection   = 10
	functionNames = 1
	functionKind  = 0
)

var errModule = errors.New("not a WebAssembly module with names")

// reader walks over a module; after a fault it only gives zeros.
type reader struct {
	rest []byte
	bad  bool
}

func (r *reader) number() int {
	n, size := binary.Uvarint(r.rest)
	if size <= 0 {
		r.bad, r.rest = true, nil
		return 0
	}
	r.rest = r.rest[size:]
	return int(n)
}

func (r *reader) take(n int) []byte {
	if n < 0 || n > len(r.rest) {
		r.bad, r.rest = true, nil
		return nil
	}
	part := r.rest[:n]
	r.rest = r.rest[n:]
	return part
}

func (r *reader) byte() byte {
	if part := r.take(1); part != nil {
		return part[0]
	}
	return 0
}

func (r *reader) text() string { return string(r.take(r.number())) }

// functionSizes gives the bytes of code by function name.
func functionSizes(module []byte) (map[string]int, error) {
	r := &reader{rest: module}
	if string(r.take(4)) != "\x00asm" {
		return nil, errModule
	}
	r.take(4) // version
	imported := 0
	var bodies []int
	var names map[int]string
	for len(r.rest) > 0 && !r.bad {
		kind := r.byte()
		section := &reader{rest: r.take(r.number())}
		switch kind {
		case importSection:
			imported = importedFunctions(section)
		case codeSection:
			bodies = bodySizes(section)
		case custom:
			if section.text() == "name" {
				names = namesOf(section)
			}
		}
	}
	if r.bad || len(bodies) == 0 || len(names) == 0 {
		return nil, errModule
	}
	sizes := map[string]int{}
	for i, size := range bodies {
		sizes[names[imported+i]] += size
	}
	return sizes, nil
}

// importedFunctions counts them: they come before the module's own. Go's modules import nothing else.
func importedFunctions(r *reader) int {
	functions := 0
	for n := r.number(); n > 0 && !r.bad; n-- {
		r.text()
		r.text()
		if r.byte() == functionKind {
			functions++
		}
		r.number()
	}
	return functions
}

func bodySizes(r *reader) []int {
	var sizes []int
	for n := r.number(); n > 0 && !r.bad; n-- {
		size := r.number()
		r.take(size)
		sizes = append(sizes, size)
	}
	return sizes
}

func namesOf(r *reader) map[int]string {
	names := map[int]string{}
	for len(r.rest) > 0 && !r.bad {
		kind := r.byte()
		part := &reader{rest: r.take(r.number())}
		if kind != functionNames {
			continue
		}
		for n := part.number(); n > 0 && !part.bad; n-- {
			index := part.number()
			names[index] = part.text()
		}
	}
	return names
}
