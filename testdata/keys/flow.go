package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"time"
)

// A flow follows texts backwards from where a key is wanted to where they are written:
// through parameters, variables, fields, lists and results, and through a code that is
// made a text, whose constants are its texts.
type flow struct {
	set   *token.FileSet
	info  *types.Info
	known map[string]*types.Package

	fields map[string][]types.Object       // by name: fields and methods that pages may name
	from   map[types.Object][]ast.Expr     // what is put into a variable or field
	within map[types.Object][]ast.Expr     // what is put into a list or map kept in one
	listed map[types.Object][]ast.Expr     // the lists whose elements a variable is
	parts  map[types.Object][]part         // the results of a call that a variable is
	made   map[types.Object][]*ast.FuncLit // the functions that a variable holds
	gives  map[types.Object][][]ast.Expr   // what a function returns, by its place
	consts map[types.Type][]string         // the constants of a type of text

	done map[any]bool
	keys map[string]bool
}

// A part is one result of a call.
type part struct {
	call *ast.CallExpr
	at   int
}

// inside is a variable whose elements are wanted.
type inside struct{ of types.Object }

// result is one result of a function.
type result struct {
	of types.Object
	at int
}

type listing struct {
	ImportPath, Dir, Export string
	Standard                bool
	GoFiles                 []string
	Module                  *struct{ Main bool }
}

// follow reads the packages below the folder with their types, and gives the keys that are
// passed on to where one is wanted, and those that pages name by a field.
func follow(root string, named []string) (map[string]bool, error) {
	f := &flow{
		set: token.NewFileSet(), known: map[string]*types.Package{}, fields: map[string][]types.Object{},
		from: map[types.Object][]ast.Expr{}, within: map[types.Object][]ast.Expr{}, listed: map[types.Object][]ast.Expr{}, parts: map[types.Object][]part{},
		made: map[types.Object][]*ast.FuncLit{}, gives: map[types.Object][][]ast.Expr{}, consts: map[types.Type][]string{},
		done: map[any]bool{}, keys: map[string]bool{},
		info: &types.Info{
			Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{},
			Selections: map[*ast.SelectorExpr]*types.Selection{}, Instances: map[*ast.Ident]types.Instance{},
		},
	}
	files, err := f.load(root)
	if err != nil {
		return nil, err
	}
	for _, file := range files {
		f.note(file)
	}
	for _, obj := range f.info.Defs {
		if v, is := obj.(*types.Var); is && v.Name() == "key" && text(v.Type()) {
			f.wantVar(v)
		}
	}
	for _, name := range named {
		for _, obj := range f.fields[name] {
			f.wantObject(obj)
		}
	}
	return f.keys, nil
}

// load type-checks the packages of the module from their source, what they import first.
func (f *flow) load(root string) ([]*ast.File, error) {
	list := exec.Command("go", "list", "-deps", "-export", "-json=ImportPath,Dir,Export,Standard,GoFiles,Module", "./...")
	list.Dir, list.Stderr = root, os.Stderr
	out, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	exports := map[string]string{}
	others := importer.ForCompiler(f.set, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	var files []*ast.File
	for dec := json.NewDecoder(bytes.NewReader(out)); dec.More(); {
		var p listing
		if err := dec.Decode(&p); err != nil {
			return nil, err
		}
		exports[p.ImportPath] = p.Export
		if p.Module == nil || !p.Module.Main {
			continue
		}
		var own []*ast.File
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(f.set, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			own = append(own, file)
		}
		check := types.Config{Importer: importing(func(path string) (*types.Package, error) {
			if known := f.known[path]; known != nil {
				return known, nil
			}
			return others.Import(path)
		})}
		if f.known[p.ImportPath], err = check.Check(p.ImportPath, f.set, own, f.info); err != nil {
			return nil, err
		}
		files = append(files, own...)
	}
	return files, nil
}

type importing func(path string) (*types.Package, error)

func (i importing) Import(path string) (*types.Package, error) { return i(path) }

func text(t types.Type) bool {
	b, is := t.Underlying().(*types.Basic)
	return is && b.Info()&types.IsString != 0
}

// note writes down what a file puts where.
func (f *flow) note(file *ast.File) {
	for _, d := range file.Decls {
		if fn, is := d.(*ast.FuncDecl); is {
			obj := f.info.Defs[fn.Name]
			if fn.Recv != nil {
				f.fields[fn.Name.Name] = append(f.fields[fn.Name.Name], obj)
			}
			f.returns(obj, fn.Type, fn.Body)
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			f.assign(n.Lhs, n.Rhs)
		case *ast.ValueSpec:
			left := make([]ast.Expr, len(n.Names))
			for i, name := range n.Names {
				left[i] = name
				if c, is := f.info.Defs[name].(*types.Const); is && c.Val().Kind() == constant.String {
					f.consts[c.Type()] = append(f.consts[c.Type()], constant.StringVal(c.Val()))
				}
			}
			f.assign(left, n.Values)
		case *ast.RangeStmt:
			if n.Value != nil {
				if obj := f.object(n.Value); obj != nil {
					f.listed[obj] = append(f.listed[obj], n.X)
				}
			}
		case *ast.CompositeLit:
			f.composite(n)
		case *ast.CallExpr:
			f.call(n)
		case *ast.StructType:
			for _, field := range n.Fields.List {
				for _, name := range field.Names {
					f.fields[name.Name] = append(f.fields[name.Name], f.info.Defs[name])
				}
			}
		}
		return true
	})
}

// returns notes what a function gives.
func (f *flow) returns(obj types.Object, of *ast.FuncType, body *ast.BlockStmt) {
	if body == nil || of.Results == nil {
		return
	}
	var named []ast.Expr
	for _, r := range of.Results.List {
		for _, name := range r.Names {
			named = append(named, name)
		}
	}
	if named != nil {
		f.gives[obj] = append(f.gives[obj], named)
	}
	ast.Inspect(body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			return false
		case *ast.ReturnStmt:
			if len(n.Results) > 0 {
				f.gives[obj] = append(f.gives[obj], n.Results)
			}
		}
		return true
	})
}

func (f *flow) assign(left, right []ast.Expr) {
	for i, l := range left {
		obj := f.object(l)
		switch {
		case obj == nil:
			if at, is := l.(*ast.IndexExpr); is && len(right) == len(left) {
				if list := f.object(at.X); list != nil {
					f.within[list] = append(f.within[list], right[i])
				}
			}
		case len(right) == len(left):
			f.from[obj] = append(f.from[obj], right[i])
			if made, is := right[i].(*ast.FuncLit); is {
				f.made[obj] = append(f.made[obj], made)
				f.returns(obj, made.Type, made.Body)
			}
		case len(right) == 1:
			switch r := right[0].(type) {
			case *ast.CallExpr:
				f.parts[obj] = append(f.parts[obj], part{r, i})
			case *ast.IndexExpr, *ast.TypeAssertExpr:
				if i == 0 {
					f.from[obj] = append(f.from[obj], right[0])
				}
			}
		}
	}
}

// composite notes the fields that a literal of a struct fills.
func (f *flow) composite(lit *ast.CompositeLit) {
	t := f.info.Types[lit].Type
	if p, is := t.Underlying().(*types.Pointer); is {
		t = p.Elem()
	}
	of, is := t.Underlying().(*types.Struct)
	if !is {
		return
	}
	for i, e := range lit.Elts {
		if kv, is := e.(*ast.KeyValueExpr); is {
			if obj := f.object(kv.Key); obj != nil {
				f.from[obj] = append(f.from[obj], kv.Value)
			}
		} else {
			obj := origin(of.Field(i))
			f.from[obj] = append(f.from[obj], e)
		}
	}
}

// call notes what is passed for each parameter.
func (f *flow) call(call *ast.CallExpr) {
	callee := f.object(call.Fun)
	if callee == nil {
		return
	}
	var params [][]types.Object
	if fn, is := callee.(*types.Func); is {
		of := fn.Type().(*types.Signature).Params()
		var list []types.Object
		for i := range of.Len() {
			list = append(list, of.At(i))
		}
		params = append(params, list)
	}
	for _, made := range f.made[callee] {
		var list []types.Object
		for _, p := range made.Type.Params.List {
			for _, name := range p.Names {
				list = append(list, f.info.Defs[name])
			}
		}
		params = append(params, list)
	}
	for _, list := range params {
		for i, arg := range call.Args {
			switch {
			case i < len(list)-1 || i < len(list) && !variadic(callee):
				f.from[list[i]] = append(f.from[list[i]], arg)
			case len(list) > 0 && call.Ellipsis.IsValid():
				f.from[list[len(list)-1]] = append(f.from[list[len(list)-1]], arg)
			case len(list) > 0:
				f.within[list[len(list)-1]] = append(f.within[list[len(list)-1]], arg)
			}
		}
	}
}

func variadic(obj types.Object) bool {
	s, is := obj.Type().Underlying().(*types.Signature)
	return is && s.Variadic()
}

// object is the variable, field or function that an expression names, nil for others.
func (f *flow) object(e ast.Expr) types.Object {
	switch e := e.(type) {
	case *ast.ParenExpr:
		return f.object(e.X)
	case *ast.Ident:
		return origin(cmp.Or[types.Object](f.info.Defs[e], f.info.Uses[e]))
	case *ast.SelectorExpr:
		return origin(f.info.Uses[e.Sel])
	case *ast.IndexExpr:
		if _, is := f.info.Types[e.X].Type.(*types.Signature); is {
			return f.object(e.X) // a function of a type
		}
	}
	return nil
}

func origin(obj types.Object) types.Object {
	switch o := obj.(type) {
	case *types.Var:
		return o.Origin()
	case *types.Func:
		return o.Origin()
	case *types.Const:
		return o
	}
	return nil
}

func (f *flow) wantObject(obj types.Object) {
	switch o := obj.(type) {
	case *types.Var:
		f.wantVar(o)
	case *types.Func:
		f.wantResult(o, 0)
	}
}

// wantVar wants all that is put into a variable, parameter or field.
func (f *flow) wantVar(obj types.Object) {
	if obj == nil || f.done[obj] {
		return
	}
	f.done[obj] = true
	for _, e := range f.from[obj] {
		f.want(e)
	}
	for _, list := range f.listed[obj] {
		f.wantIn(list)
	}
	for _, p := range f.parts[obj] {
		f.wantCall(p.call, p.at)
	}
}

// want wants what an expression may be.
func (f *flow) want(e ast.Expr) {
	tv := f.info.Types[e]
	if tv.Value != nil {
		if tv.Value.Kind() == constant.String {
			f.keys[constant.StringVal(tv.Value)] = true
		}
		return
	}
	switch e := e.(type) {
	case *ast.ParenExpr:
		f.want(e.X)
	case *ast.Ident, *ast.SelectorExpr:
		f.wantVar(f.object(e))
	case *ast.IndexExpr:
		f.wantIn(e.X)
	case *ast.SliceExpr:
		if short, is := e.High.(*ast.BasicLit); is && short.Value == "3" {
			for _, name := range calendar() {
				f.keys[name[:3]] = true
			}
		}
	case *ast.TypeAssertExpr:
		f.want(e.X)
	case *ast.CallExpr:
		if len(e.Args) == 1 && f.info.Types[e.Fun].IsType() {
			for _, code := range f.consts[f.info.Types[e.Args[0]].Type] {
				f.keys[code] = true
			}
			f.want(e.Args[0])
			return
		}
		f.wantCall(e, 0)
	}
}

// calendar are the names that the standard library gives months and days.
func calendar() (names []string) {
	for m := time.January; m <= time.December; m++ {
		names = append(names, m.String())
	}
	for d := time.Sunday; d <= time.Saturday; d++ {
		names = append(names, d.String())
	}
	return names
}

func (f *flow) wantCall(call *ast.CallExpr, at int) {
	callee := f.object(call.Fun)
	if callee == nil {
		if id, is := call.Fun.(*ast.Ident); is && id.Name == "append" {
			f.wantIn(call)
		}
		return
	}
	if callee.Pkg() != nil && callee.Pkg().Path() == "time" && callee.Name() == "String" {
		for _, name := range calendar() {
			f.keys[name] = true
		}
		return
	}
	f.wantResult(callee, at)
}

func (f *flow) wantResult(obj types.Object, at int) {
	if f.done[result{obj, at}] {
		return
	}
	f.done[result{obj, at}] = true
	for _, given := range f.gives[obj] {
		switch {
		case at < len(given):
			f.want(given[at])
		case len(given) == 1:
			if call, is := given[0].(*ast.CallExpr); is {
				f.wantCall(call, at)
			}
		}
	}
}

// wantIn wants the elements of a list or map.
func (f *flow) wantIn(e ast.Expr) {
	switch e := e.(type) {
	case *ast.ParenExpr:
		f.wantIn(e.X)
	case *ast.SliceExpr:
		f.wantIn(e.X)
	case *ast.CompositeLit:
		for _, el := range e.Elts {
			if kv, is := el.(*ast.KeyValueExpr); is {
				el = kv.Value
			}
			f.want(el)
		}
	case *ast.Ident, *ast.SelectorExpr:
		obj := f.object(e)
		if obj == nil || f.done[inside{obj}] {
			return
		}
		f.done[inside{obj}] = true
		for _, list := range f.from[obj] {
			f.wantIn(list)
		}
		for _, el := range f.within[obj] {
			f.want(el)
		}
	case *ast.CallExpr:
		if id, is := e.Fun.(*ast.Ident); is && id.Name == "append" && len(e.Args) > 0 {
			f.wantIn(e.Args[0])
			for _, arg := range e.Args[1:] {
				if e.Ellipsis.IsValid() {
					f.wantIn(arg)
				} else {
					f.want(arg)
				}
			}
			return
		}
		callee := f.object(e.Fun)
		if callee == nil {
			return
		}
		if call, is := once(callee, f.from); is { // a list that is made once
			f.wantIn(call)
			return
		}
		for _, given := range f.gives[callee] {
			if len(given) > 0 {
				f.wantIn(given[0])
			}
		}
	case *ast.FuncLit:
		ast.Inspect(e.Body, func(n ast.Node) bool {
			if r, is := n.(*ast.ReturnStmt); is && len(r.Results) > 0 {
				f.wantIn(r.Results[0])
			}
			return true
		})
	}
}

// once is the function that sync.OnceValue keeps the answer of.
func once(obj types.Object, from map[types.Object][]ast.Expr) (ast.Expr, bool) {
	for _, e := range from[obj] {
		call, is := e.(*ast.CallExpr)
		if !is || len(call.Args) != 1 {
			continue
		}
		if made, is := call.Args[0].(*ast.FuncLit); is {
			return made, true
		}
	}
	return nil, false
}

// aCode is a word, or several joined, as codes and the names of fields are.
var aCode = regexp.MustCompile(`^[a-z]+([_.-][a-z]+)*$`)

// more are the keys that the one has and the other lacks.
func more(found, known map[string]bool) (list []string) {
	for key := range found {
		if !known[key] && aWord(verb.ReplaceAllString(key, "")) && !aCode.MatchString(key) {
			list = append(list, key)
		}
	}
	slices.Sort(list)
	return list
}
