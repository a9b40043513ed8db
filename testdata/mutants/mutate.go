package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
)

// A mutant is one small change to one file.
type mutant struct {
	file       string // path from the module's root
	line       int
	start, end int // bytes of the file that are replaced
	old, new   string
	kind, in   string // what sort of change, in which function
}

func (m mutant) String() string {
	return fmt.Sprintf("%s:%d %s %s | %s => %s", m.file, m.line, m.kind, m.in, shortened(m.old), shortened(m.new))
}

func shortened(text string) string {
	text = string(slices.DeleteFunc([]rune(text), func(r rune) bool { return r == '\n' || r == '\t' }))
	if runes := []rune(text); len(runes) > 110 {
		return string(runes[:110]) + "…"
	}
	return text
}

// A finder gathers the mutants of one file.
type finder struct {
	path   string
	source []byte
	set    *token.FileSet
	found  []mutant
	within *ast.FuncDecl
}

// mutantsOf gives every change that is known for a file.
func mutantsOf(path string) ([]mutant, error) {
	source, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	f := finder{path: path, source: source, set: token.NewFileSet()}
	parsed, err := parser.ParseFile(f.set, path, source, 0)
	if err != nil {
		return nil, err
	}
	for _, d := range parsed.Decls {
		function, ok := d.(*ast.FuncDecl)
		if !ok || function.Body == nil {
			continue
		}
		f.within = function
		ast.Inspect(function.Body, f.look)
	}
	return f.found, nil
}

func (f *finder) text(from, to token.Pos) string {
	return string(f.source[f.set.Position(from).Offset:f.set.Position(to).Offset])
}

// put notes that the text between two places may be replaced.
func (f *finder) put(kind string, from, to token.Pos, by string) {
	at := f.set.Position(from)
	f.found = append(f.found, mutant{
		file: f.path, line: at.Line, start: at.Offset, end: f.set.Position(to).Offset,
		old: f.text(from, to), new: by, kind: kind, in: f.within.Name.Name,
	})
}

// look notes what may be changed at a node, and tells whether to look inside it: how
// much room is made beforehand changes nothing that anybody sees.
func (f *finder) look(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CallExpr:
		return !makesRoom(n)
	case *ast.BinaryExpr:
		f.operator(n)
	case *ast.IfStmt:
		f.put("condition", n.Cond.Pos(), n.Cond.End(), "!("+f.text(n.Cond.Pos(), n.Cond.End())+")")
	case *ast.BasicLit:
		f.figure(n)
	case *ast.ExprStmt, *ast.IncDecStmt:
		f.put("statement", n.Pos(), n.End(), "")
	case *ast.AssignStmt:
		if n.Tok != token.DEFINE {
			f.put("statement", n.Pos(), n.End(), "")
		}
	case *ast.ReturnStmt:
		f.returned(n)
	}
	return true
}

func makesRoom(call *ast.CallExpr) bool {
	name, ok := call.Fun.(*ast.Ident)
	return ok && name.Name == "make" && len(call.Args) == 3
}

// operators are what an operator is turned into, and the sort of change that is.
func operators(t token.Token) (kind string, into token.Token) {
	switch t {
	case token.ADD:
		return "arithmetic", token.SUB
	case token.SUB:
		return "arithmetic", token.ADD
	case token.MUL:
		return "arithmetic", token.QUO
	case token.QUO, token.REM:
		return "arithmetic", token.MUL
	case token.EQL:
		return "comparison", token.NEQ
	case token.NEQ:
		return "comparison", token.EQL
	case token.LSS:
		return "comparison", token.LEQ
	case token.LEQ:
		return "comparison", token.LSS
	case token.GTR:
		return "comparison", token.GEQ
	case token.GEQ:
		return "comparison", token.GTR
	case token.LAND:
		return "logic", token.LOR
	case token.LOR:
		return "logic", token.LAND
	}
	return "", token.ILLEGAL
}

func (f *finder) operator(n *ast.BinaryExpr) {
	kind, into := operators(n.Op)
	if kind == "" || textual(n.X) || textual(n.Y) && n.Op == token.ADD {
		return
	}
	f.put(kind, n.OpPos, n.OpPos+token.Pos(len(n.Op.String())), into.String())
}

func textual(e ast.Expr) bool {
	if sum, ok := e.(*ast.BinaryExpr); ok && sum.Op == token.ADD {
		return textual(sum.X) || textual(sum.Y)
	}
	lit, ok := e.(*ast.BasicLit)
	return ok && lit.Kind == token.STRING
}

// figure makes a number one more, or one less where it is odd.
func (f *finder) figure(n *ast.BasicLit) {
	by := " + 1"
	switch n.Kind {
	case token.INT:
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil && v%2 == 1 {
			by = " - 1"
		}
	case token.FLOAT:
	default:
		return
	}
	f.put("number", n.Pos(), n.End(), "("+n.Value+by+")")
}

// returned changes what a function answers, or lets it go on.
func (f *finder) returned(n *ast.ReturnStmt) {
	f.put("no return", n.Pos(), n.End(), "")
	types := resultTypes(f.within.Type)
	if len(n.Results) == 0 || len(n.Results) != len(types) {
		return
	}
	last := n.Results[len(n.Results)-1]
	if f.text(types[len(types)-1].Pos(), types[len(types)-1].End()) == "error" && !isNil(last) {
		f.put("error dropped", last.Pos(), last.End(), "nil")
	}
	first := n.Results[0]
	if isZero(first) {
		return
	}
	switch name := f.text(types[0].Pos(), types[0].End()); name {
	case "error":
	case "bool":
		f.put("answer", first.Pos(), first.End(), "!("+f.text(first.Pos(), first.End())+")")
	default:
		f.put("answer", first.Pos(), first.End(), "*new("+name+")")
	}
}

func isNil(e ast.Expr) bool {
	name, ok := e.(*ast.Ident)
	return ok && name.Name == "nil"
}

// isZero tells whether an answer is written as nothing: nil, 0, "" or T{}.
func isZero(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Value == "0" || e.Value == `""`
	case *ast.CompositeLit:
		return len(e.Elts) == 0
	}
	return isNil(e)
}

// resultTypes are the types of a function's results, one for each.
func resultTypes(t *ast.FuncType) []ast.Expr {
	if t.Results == nil {
		return nil
	}
	var types []ast.Expr
	for _, r := range t.Results.List {
		for range max(1, len(r.Names)) {
			types = append(types, r.Type)
		}
	}
	return types
}

// shuffled gives mutants in an order that a seed decides, the sorts of change in turn,
// so that the many numbers don't crowd out the rest.
func shuffled(all []mutant, seed uint64) []mutant {
	random := rand.New(rand.NewPCG(seed, 0))
	byKind := map[string][]mutant{}
	var kinds []string
	for _, m := range all {
		if byKind[m.kind] == nil {
			kinds = append(kinds, m.kind)
		}
		byKind[m.kind] = append(byKind[m.kind], m)
	}
	slices.Sort(kinds)
	for _, k := range kinds {
		random.Shuffle(len(byKind[k]), func(i, j int) { byKind[k][i], byKind[k][j] = byKind[k][j], byKind[k][i] })
	}
	var order []mutant
	for i := 0; len(order) < len(all); i++ {
		for _, k := range kinds {
			if i < len(byKind[k]) {
				order = append(order, byKind[k][i])
			}
		}
	}
	return order
}
