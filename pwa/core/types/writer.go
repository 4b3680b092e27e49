package main

import (
	"fmt"
	"go/ast"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// schema is the little of JSON Schema that is needed here.
type schema struct {
	Title       string             `json:"title,omitempty"`
	Description string             `json:"description,omitempty"`
	Type        string             `json:"type,omitempty"`
	Ref         string             `json:"$ref,omitempty"`
	Enum        []string           `json:"enum,omitempty"`
	Items       *schema            `json:"items,omitempty"`
	AnyOf       []*schema          `json:"anyOf,omitempty"`
	Properties  map[string]*schema `json:"properties,omitempty"`
	Required    []string           `json:"required,omitempty"`
	Additional  any                `json:"additionalProperties,omitempty"`
	Defs        map[string]*schema `json:"$defs,omitempty"`
	Is          string             `json:"tsType,omitempty"`
}

func object() *schema {
	return &schema{Type: "object", Properties: map[string]*schema{}, Additional: false}
}

// set adds a property that must be there.
func (s *schema) set(name string, of *schema) {
	s.Properties[name] = of
	s.Required = append(s.Required, name)
}

// writer turns declarations into schemas, each named type once.
type writer struct {
	src  *sources
	defs map[string]*schema
	from map[string]string // short name → the type that took it
	err  error
}

func (w *writer) fail(err error) *schema {
	if w.err == nil {
		w.err = err
	}
	return &schema{}
}

// ref gives a reference to a named type and describes it when it is new.
func (w *writer) ref(pkg, name string) *schema {
	key, t, err := w.src.find(pkg, name)
	if err != nil {
		return w.fail(err)
	}
	if w.from == nil {
		w.from = map[string]string{}
	}
	if other := w.from[name]; other != "" && other != key {
		return w.fail(fmt.Errorf("two types are called %s: %s and %s", name, other, key))
	}
	if w.from[name] == "" {
		w.from[name] = key
		def := w.of(pkg, t.Type)
		if values := w.src.consts[key]; def.Type == "string" && len(values) > 0 {
			def.Enum = values
		}
		def.Title, def.Description = name, t.Doc
		w.defs[name] = def
	}
	return &schema{Ref: "#/$defs/" + name}
}

var basic = map[string]string{
	"string": "string", "bool": "boolean", "int": "integer", "int64": "integer", "uint64": "integer",
	"float64": "number",
}

// of describes a type expression as seen from a package.
func (w *writer) of(pkg string, e ast.Expr) *schema {
	switch e := e.(type) {
	case *ast.Ident:
		if e.Name == "any" {
			return &schema{Is: "unknown"}
		}
		if kind := basic[e.Name]; kind != "" {
			return &schema{Type: kind}
		}
		return w.ref(pkg, e.Name)
	case *ast.SelectorExpr:
		other := e.X.(*ast.Ident).Name
		switch other + "." + e.Sel.Name {
		case "json.RawMessage":
			return &schema{Is: "unknown"}
		case "time.Time":
			return &schema{Type: "string"}
		}
		return w.ref(other, e.Sel.Name)
	case *ast.StarExpr:
		return w.of(pkg, e.X)
	case *ast.ArrayType:
		return &schema{Type: "array", Items: w.of(pkg, e.Elt)}
	case *ast.MapType:
		return &schema{Type: "object", Additional: w.of(pkg, e.Value)}
	case *ast.StructType:
		return w.fields(pkg, e)
	}
	return w.fail(fmt.Errorf("cannot describe %T in %s", e, pkg))
}

func (w *writer) fields(pkg string, t *ast.StructType) *schema {
	s := object()
	for _, field := range exported(t) {
		if len(field.Names) != 1 || field.Tag == nil {
			return w.fail(fmt.Errorf("a field without name or tag in package %s", pkg))
		}
		raw, _ := strconv.Unquote(field.Tag.Value)
		name, options, _ := strings.Cut(reflect.StructTag(raw).Get("json"), ",")
		of := w.of(pkg, field.Type)
		_, pointer := field.Type.(*ast.StarExpr)
		optional := strings.Contains(options, "omitempty")
		if pointer && !optional {
			of = &schema{AnyOf: []*schema{of, {Type: "null"}}}
		}
		if doc := docOf(field.Doc, field.Comment); doc != "" && of.Ref == "" {
			of.Description = doc
		}
		s.Properties[name] = of
		if !optional {
			s.Required = append(s.Required, name)
		}
	}
	return s
}

// questions are the methods of summary's desk that take a …Question.
func (w *writer) questions() *schema {
	s := object()
	s.Title = "Questions"
	w.functions("summary", func(f *ast.FuncDecl) {
		in, ok := only(f.Type.Params).(*ast.Ident)
		if f.Recv == nil || !ok || !strings.HasSuffix(in.Name, "Question") || len(f.Type.Results.List) != 2 {
			return
		}
		s.set(small(f.Name.Name), pair("ask", w.ref("summary", in.Name), "answer", w.of("summary", f.Type.Results.List[0].Type)))
	})
	return w.some(s, "questions")
}

// bodies are the entries of record's table of kinds.
func (w *writer) bodies() *schema {
	s := object()
	s.Title = "Bodies"
	for _, file := range w.src.files {
		if file.Name.Name != "record" {
			continue
		}
		ast.Inspect(file, func(n ast.Node) bool {
			entry, ok := n.(*ast.KeyValueExpr)
			if !ok {
				return true
			}
			kind, isName := entry.Key.(*ast.Ident)
			if !isName || !slices.Contains(w.src.consts["record.Kind"], w.src.named["record."+kind.Name]) {
				return true
			}
			if made := madeIn(entry.Value); made != "" {
				s.set(w.src.named["record."+kind.Name], w.ref("record", made))
			}
			return true
		})
	}
	return w.some(s, "bodies")
}

// spokenIn describes the exported types of a package that are JSON.
func (w *writer) spokenIn(pkg string) *schema {
	s := object()
	s.Title = "Calls"
	for key := range w.src.types {
		in, name, _ := strings.Cut(key, ".")
		if _, isStruct := w.src.types[key].Type.(*ast.StructType); isStruct && in == pkg && w.spoken(key) {
			s.set(small(name), w.ref(pkg, name))
		}
	}
	slices.Sort(s.Required)
	return w.some(s, "types in "+pkg)
}

// spoken says whether every exported field of a struct has a tag: then it is JSON.
func (w *writer) spoken(key string) bool {
	fields := exported(w.src.types[key].Type.(*ast.StructType))
	for _, field := range fields {
		if field.Tag == nil {
			return false
		}
	}
	return len(fields) > 0 && ast.IsExported(key[strings.Index(key, ".")+1:])
}

// exported gives a struct's fields but for those with a small first letter.
func exported(t *ast.StructType) []*ast.Field {
	return slices.DeleteFunc(slices.Clone(t.Fields.List), func(f *ast.Field) bool {
		return len(f.Names) > 0 && !f.Names[0].IsExported()
	})
}

func (w *writer) functions(pkg string, visit func(*ast.FuncDecl)) {
	for _, file := range w.src.files {
		if file.Name.Name != pkg {
			continue
		}
		for _, decl := range file.Decls {
			if f, ok := decl.(*ast.FuncDecl); ok {
				visit(f)
			}
		}
	}
}

// some fails when a part came out empty: then the sources have moved.
func (w *writer) some(s *schema, what string) *schema {
	if len(s.Properties) == 0 {
		return w.fail(fmt.Errorf("found no %s", what))
	}
	return s
}

func pair(one string, a *schema, two string, b *schema) *schema {
	s := object()
	s.set(one, a)
	s.set(two, b)
	return s
}

// only returns the type of the one parameter, nil when there are others.
func only(list *ast.FieldList) ast.Expr {
	if list == nil || len(list.List) != 1 {
		return nil
	}
	return list.List[0].Type
}

// madeIn returns T of the new(T) inside an expression, "" when there is none.
func madeIn(e ast.Expr) string {
	made := ""
	ast.Inspect(e, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) != 1 {
			return true
		}
		if f, ok := call.Fun.(*ast.Ident); ok && f.Name == "new" {
			if t, ok := call.Args[0].(*ast.Ident); ok {
				made = t.Name
			}
		}
		return true
	})
	return made
}
