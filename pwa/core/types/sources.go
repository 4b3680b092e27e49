package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"
)

// declared is a type declaration with its comment. Package is the name of the
// package that declares it.
type declared struct {
	Package string
	Doc     string
	Type    ast.Expr
}

// sources is what was read: types by "package.Name", values of string
// constants by their type, values by constant name, and the rest of the trees.
type sources struct {
	types  map[string]*declared
	consts map[string][]string
	named  map[string]string
	files  []*ast.File
}

// read takes in a folder's Go files, tests left out.
func (s *sources) read(folder string) error {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		name := entry.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(folder, name), nil, parser.ParseComments)
		if err != nil {
			return err
		}
		s.take(file)
	}
	return nil
}

func (s *sources) take(file *ast.File) {
	s.files = append(s.files, file)
	for _, decl := range file.Decls {
		group, ok := decl.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range group.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				s.types[file.Name.Name+"."+spec.Name.Name] =
					&declared{file.Name.Name, docOf(spec.Doc, group.Doc), spec.Type}
			case *ast.ValueSpec:
				s.takeConst(file.Name.Name, group.Tok, spec)
			}
		}
	}
}

func (s *sources) takeConst(pkg string, tok token.Token, spec *ast.ValueSpec) {
	if tok != token.CONST {
		return
	}
	for i, value := range spec.Values {
		text, ok := literal(value)
		if !ok {
			continue
		}
		s.named[pkg+"."+spec.Names[i].Name] = text
		if of, ok := spec.Type.(*ast.Ident); ok {
			s.consts[pkg+"."+of.Name] = append(s.consts[pkg+"."+of.Name], text)
		}
	}
}

// lists gives every exported list of strings of package record, under its
// name with a small first letter: the vocabularies.
func (s *sources) lists() map[string][]string {
	all := map[string][]string{}
	for _, file := range s.files {
		if file.Name.Name != "record" {
			continue
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok || len(spec.Values) != 1 || !spec.Names[0].IsExported() {
				return true
			}
			if list, ok := spec.Values[0].(*ast.CompositeLit); ok {
				if _, isList := list.Type.(*ast.ArrayType); isList {
					all[small(spec.Names[0].Name)] = s.strings(list)
				}
			}
			return true
		})
	}
	return all
}

// strings gives the strings of a list of literals and constants.
func (s *sources) strings(list *ast.CompositeLit) []string {
	var all []string
	for _, element := range list.Elts {
		if text, ok := literal(element); ok {
			all = append(all, text)
		} else if name, ok := element.(*ast.Ident); ok {
			all = append(all, s.named["record."+name.Name])
		}
	}
	return all
}

// find returns a type as seen from a package.
func (s *sources) find(pkg, name string) (string, *declared, error) {
	key := pkg + "." + name
	if t := s.types[key]; t != nil {
		return key, t, nil
	}
	return "", nil, fmt.Errorf("no type %s in the sources", key)
}

func literal(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

func docOf(groups ...*ast.CommentGroup) string {
	for _, g := range groups {
		if g != nil {
			return strings.TrimSpace(g.Text())
		}
	}
	return ""
}

func small(name string) string {
	return string(unicode.ToLower(rune(name[0]))) + name[1:]
}
