package schema

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"sort"
	"strings"
)

// Breaks tells what in a schema is not an addition to an earlier one: what is
// gone, what has another meaning, and what must newly be there. Both are JSON.
// retired are the names that may be gone and may not come back. The error is
// that of reading them.
func Breaks(earlier, later []byte, retired []string) ([]string, error) {
	var was, is node
	if err := json.Unmarshal(earlier, &was); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(later, &is); err != nil {
		return nil, err
	}
	c := &comparison{retired: retired}
	c.schema(at{}, was, is)
	c.reused(is)
	sort.Strings(c.breaks)
	return c.breaks, nil
}

// at is a place in a schema: the type that it belongs to and the path to it.
type at struct{ of, path string }

func (a at) in(step string) at { return at{a.of, a.path + "/" + step} }

type comparison struct {
	retired []string
	breaks  []string
}

func (c *comparison) fail(where at, what string) {
	c.breaks = append(c.breaks, fmt.Sprintf("%s: %s", where.path, what))
}

// words say nothing about a line.
var words = []string{"$comment", "description", "title"}

// schema compares two schemas keyword by keyword.
func (c *comparison) schema(where at, was, is node) {
	for keyword := range is {
		if _, known := was[keyword]; !known && !slices.Contains(words, keyword) {
			c.fail(where, "has a new "+keyword)
		}
	}
	for keyword, old := range was {
		now, there := is[keyword]
		switch {
		case slices.Contains(words, keyword):
		case !there:
			c.fail(where, "has lost its "+keyword)
		default:
			c.keyword(where.in(keyword), keyword, old, now)
		}
	}
}

func (c *comparison) keyword(where at, keyword string, old, now any) {
	switch keyword {
	case "properties", "$defs":
		c.named(where, keyword, old.(node), now.(node))
	case "items":
		c.schema(where, old.(node), now.(node))
	case "enum":
		c.kept(where, old.([]any), now.([]any))
	case "required":
		c.kept(where, old.([]any), now.([]any))
		c.kept(where, now.([]any), old.([]any))
	case "allOf":
		c.kinds(where, old.([]any), now.([]any))
	default:
		if !reflect.DeepEqual(old, now) {
			c.fail(where, fmt.Sprintf("was %v, is %v", old, now))
		}
	}
}

// named compares fields, or types, one by one.
func (c *comparison) named(where at, keyword string, was, is node) {
	for name, old := range was {
		inside := where.in(name)
		if keyword == "$defs" {
			inside.of = name
		}
		now, there := is[name]
		if there {
			c.schema(inside, old.(node), now.(node))
		} else if !slices.Contains(c.retired, where.of+"."+name) && !slices.Contains(c.retired, name) {
			c.fail(inside, "is gone")
		}
	}
}

// kept holds that a list still has all that it had.
func (c *comparison) kept(where at, was, is []any) {
	for _, old := range was {
		gone := !slices.Contains(is, old)
		if gone && !slices.Contains(c.retired, where.of+"."+fmt.Sprint(old)) {
			c.fail(where, fmt.Sprintf("%v came or went", old))
		}
	}
}

// kinds holds that every kind still has its body.
func (c *comparison) kinds(where at, was, is []any) {
	bodies := map[string]any{}
	for _, entry := range is {
		bodies[kindIn(entry)] = entry
	}
	for _, old := range was {
		kind := kindIn(old)
		now, there := bodies[kind]
		switch {
		case !there && slices.Contains(c.retired, strings.Fields(kind)[0]):
		case !there:
			c.fail(where, "kind "+kind+" is gone")
		case !reflect.DeepEqual(old, now):
			c.fail(where, "kind "+kind+" has another body")
		}
	}
}

// kindIn is the kind and version that an entry of allOf is for.
func kindIn(entry any) string {
	when := entry.(node)["if"].(node)["properties"].(node)
	return fmt.Sprint(when["kind"].(node)["const"], " ", when["v"].(node)["const"])
}

// reused tells which retired names are in a schema again.
func (c *comparison) reused(is node) {
	names := []string{}
	if bodies, has := is["allOf"].([]any); has {
		for _, entry := range bodies {
			names = append(names, strings.Fields(kindIn(entry))[0])
		}
	}
	types, _ := is["$defs"].(node)
	for name, def := range types {
		names = append(names, name)
		fields, _ := def.(node)["properties"].(node)
		for field := range fields {
			names = append(names, name+"."+field)
		}
	}
	for _, name := range c.retired {
		if slices.Contains(names, name) {
			c.fail(at{path: name}, "is retired and came back")
		}
	}
}
