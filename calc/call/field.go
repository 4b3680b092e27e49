package call

import (
	"math"
	"strconv"
	"strings"

	"jointwalk/calc/quantity"
)

// Kind is what a field holds.
type Kind uint8

// The kinds.
const (
	Number  Kind = iota
	Whole        // a whole number
	Text         // any text, Max bytes at most
	Word         // one of Words
	Flag         // true or false
	Object       // an object of fields
	Objects      // a list of objects, Min to Max of them
	Numbers      // a list of numbers, Min to Max of them
	Texts        // a list of texts
)

// Field is one field of what goes in or comes out.
type Field struct {
	Name string
	Is   Kind
	// Min and Max are the range of a number, both included, or of the length of a list or a text. Only for what goes in.
	Min, Max float64
	// Words that it may be, with commas between them.
	Words string
	// May says that it may be left out, or null where it comes out.
	May bool
	// Of are the fields of an object, or of each in a list.
	Of []Field
	// Doc is its unit and meaning.
	Doc string
}

// check holds an object to the fields that it may and must have.
func check(fields []Field, in args, path string) error {
	known := 0
	for i := range fields {
		f := &fields[i]
		value, there := in[f.Name]
		switch {
		case there && value != nil:
			known++
			if err := f.check(value, join(path, f.Name)); err != nil {
				return err
			}
		case !f.May:
			return &quantity.Fault{Code: CodeMissing, Field: join(path, f.Name)}
		case there: // null is as good as left out
			known++
		}
	}
	if known < len(in) {
		return stray(fields, in, path)
	}
	return nil
}

// stray names what is no field.
func stray(fields []Field, in args, path string) error {
	first := ""
	for name := range in {
		if !has(fields, name) && (first == "" || name < first) {
			first = name
		}
	}
	return &quantity.Fault{Code: CodeNoField, Field: join(path, first)}
}

func has(fields []Field, name string) bool {
	for i := range fields {
		if fields[i].Name == name {
			return true
		}
	}
	return false
}

// check holds one value to its field.
func (f *Field) check(value any, path string) error {
	switch v := value.(type) {
	case float64:
		return f.checkNumber(v, path)
	case string:
		return f.checkText(v, path)
	case bool:
		return f.is(f.Is == Flag, path)
	case map[string]any:
		if f.Is == Object {
			return check(f.Of, v, path)
		}
	case []any:
		return f.checkList(v, path)
	}
	return f.is(false, path)
}

func (f *Field) is(right bool, path string) error {
	if right {
		return nil
	}
	return &quantity.Fault{Code: CodeKind, Field: path}
}

func (f *Field) checkNumber(v float64, path string) error {
	if f.Is != Number && (f.Is != Whole || v != math.Trunc(v)) {
		return f.is(false, path)
	}
	return quantity.Within(path, v, f.Min, f.Max)
}

func (f *Field) checkText(v, path string) error {
	switch f.Is {
	case Text:
		return f.length(len(v), path)
	case Word:
		if v != "" && !strings.Contains(v, ",") && strings.Contains(","+f.Words+",", ","+v+",") {
			return nil
		}
		return &quantity.Fault{Code: CodeNotOneOf, Field: path, Text: v}
	}
	return f.is(false, path)
}

func (f *Field) checkList(items []any, path string) error {
	if f.Is != Objects && f.Is != Numbers {
		return f.is(false, path)
	}
	if err := f.length(len(items), path); err != nil {
		return err
	}
	for i, item := range items {
		at := join(path, strconv.Itoa(i))
		object, isObject := item.(map[string]any)
		_, isNumber := item.(float64)
		if err := f.is(isObject && f.Is == Objects || isNumber && f.Is == Numbers, at); err != nil {
			return err
		}
		if !isObject {
			continue
		}
		if err := check(f.Of, object, at); err != nil {
			return err
		}
	}
	return nil
}

func (f *Field) length(n int, path string) error {
	if float64(n) < f.Min || float64(n) > f.Max {
		return &quantity.Fault{Code: CodeLength, Field: path, Min: f.Min, Max: f.Max}
	}
	return nil
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
