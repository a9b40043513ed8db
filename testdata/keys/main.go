// Keys lists every sentence of the program, each the key that a language's catalogue
// would answer, and fails where a word is passed to one as an argument: a word inside a
// sentence is a key of its own, or no catalogue could word it.
//
//	go run ./testdata/keys          prints the keys, one a line, as JSON text
//	go run ./testdata/keys -count   prints how many there are
//	go run ./testdata/keys -in FILE fails where a catalogue, JSON of key and text, lacks one
//
// A function is taken to want a key where it has a parameter named key; a template where it
// calls T. What is passed on to one through fields, lists and results is followed back to
// where it is written (flow.go); a single small word that is found so may be a code that
// nobody reads, so a catalogue may lack it.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"text/template/parse"
)

func main() {
	count := flag.Bool("count", false, "print how many keys there are")
	in := flag.String("in", "", "a catalogue, which is to have a text for each key")
	flag.Parse()
	found, err := read(".")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	keys := slices.Sorted(maps.Keys(found.keys))
	switch {
	case *in != "":
		if err := lacks(*in, keys); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	case *count:
		fmt.Println(len(keys))
	default:
		for _, k := range keys {
			text, _ := json.Marshal(k) // text always marshals
			fmt.Println(string(text))
		}
	}
	for _, raw := range found.raw {
		fmt.Fprintln(os.Stderr, raw)
	}
	if len(found.raw) > 0 {
		fmt.Fprintf(os.Stderr, "%d words passed as they are: make each a key (measure.Say), so that a catalogue can word it\n", len(found.raw))
		os.Exit(1)
	}
}

// lacks names the keys that a catalogue has no text for.
func lacks(file string, keys []string) error {
	doc, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	var texts map[string]string
	if err := json.Unmarshal(doc, &texts); err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	var missing []string
	for _, key := range keys {
		if texts[key] == "" {
			missing = append(missing, strconv.Quote(key))
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("%s lacks %d texts:\n%s", file, len(missing), strings.Join(missing, "\n"))
	}
	return nil
}

// A reading is what the source holds.
type reading struct {
	keys  map[string]bool
	tag   bool     // the text of the page that is read ended inside a tag
	named []string // fields and methods that pages word
	raw   []string // where a word is passed as an argument, and the word
}

// word is a run of letters that somebody would translate. Codes and units of one letter
// are none.
var word = regexp.MustCompile(`\pL{2}`)

// aWord tells a word from what is typed as it stands, a command.
func aWord(text string) bool { return word.MatchString(text) && !strings.Contains(text, "--") }

// read reads the Go files and pages below a folder.
func read(root string) (reading, error) {
	found := reading{keys: map[string]bool{}}
	set := token.NewFileSet()
	files := map[string]*ast.File{}
	wants := map[string]int{} // the place of the key, by folder and name of the function
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".")):
			return filepath.SkipDir
		case strings.HasSuffix(path, ".html"):
			return found.page(path)
		case !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(set, path, nil, 0)
		files[path] = file
		return err
	})
	if err != nil {
		return reading{}, err
	}
	for path, file := range files {
		wanting(filepath.Dir(path), file, wants)
	}
	for _, path := range slices.Sorted(maps.Keys(files)) {
		ast.Inspect(files[path], func(n ast.Node) bool {
			if call, is := n.(*ast.CallExpr); is {
				found.call(set, call, filepath.Dir(path), wants)
			}
			return true
		})
	}
	passed, err := follow(root, found.named)
	if err != nil {
		return reading{}, err
	}
	for _, key := range more(passed, found.keys) {
		found.keys[key] = true
	}
	return found, nil
}

// verb is what a key leaves for a figure or a name.
var verb = regexp.MustCompile(`%(\[\d+\])?[-+.\d]*[a-zA-Z%]`)

// kept are sentences of results that are stored with codes in them; receipts/words words
// those.
var kept = map[string]bool{
	"Sold as %s and measured as %s: the two do not compare, so this is neither short nor full.": true,
}

// wanting adds the functions of a file, named or kept in a variable, that have a parameter
// named key.
func wanting(folder string, file *ast.File, wants map[string]int) {
	ast.Inspect(file, func(n ast.Node) bool {
		switch f := n.(type) {
		case *ast.FuncDecl:
			want(folder+" "+f.Name.Name, f.Type, wants)
			if f.Name.IsExported() {
				want(f.Name.Name, f.Type, wants)
			}
		case *ast.AssignStmt:
			name, named := f.Lhs[0].(*ast.Ident)
			if made, is := f.Rhs[0].(*ast.FuncLit); is && named {
				want(folder+" "+name.Name, made.Type, wants)
			}
		}
		return true
	})
}

// want notes where a function takes its key, where it takes arguments for it too.
func want(name string, f *ast.FuncType, wants map[string]int) {
	i, at, variadic := 0, -1, false
	for _, p := range f.Params.List {
		_, variadic = p.Type.(*ast.Ellipsis)
		for _, n := range p.Names {
			if n.Name == "key" {
				at = i
			}
			i++
		}
	}
	if at >= 0 && variadic {
		wants[name] = at
	}
}

// call reads one call: its key, and what is passed with it.
func (r *reading) call(set *token.FileSet, call *ast.CallExpr, folder string, wants map[string]int) {
	name := ""
	switch f := call.Fun.(type) {
	case *ast.Ident:
		name = f.Name
	case *ast.SelectorExpr:
		name = f.Sel.Name
	}
	at, is := wants[folder+" "+name]
	if !is {
		at, is = wants[name]
	}
	if !is || len(call.Args) <= at {
		return
	}
	key, is := literal(call.Args[at])
	if !is {
		return
	}
	r.keys[key] = true
	for _, arg := range call.Args[at+1:] {
		if text, is := literal(arg); is && aWord(text) {
			r.raw = append(r.raw, fmt.Sprintf("%s: %q in %q", set.Position(arg.Pos()), text, key))
		}
		if inner, is := arg.(*ast.CallExpr); is && len(inner.Args) == 1 {
			if to, is := inner.Fun.(*ast.Ident); is && to.Name == "string" && !kept[key] {
				r.raw = append(r.raw, fmt.Sprintf("%s: a code made a word in %q", set.Position(arg.Pos()), key))
			}
		}
	}
}

// literal is the text of an expression that is one.
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind != token.STRING {
			return "", false
		}
		text, err := strconv.Unquote(e.Value)
		return text, err == nil
	case *ast.BinaryExpr:
		left, is := literal(e.X)
		right, too := literal(e.Y)
		return left + right, is && too && e.Op == token.ADD
	}
	return "", false
}

// page reads the keys of a template.
func (r *reading) page(path string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	tree := parse.New(path)
	tree.Mode = parse.SkipFuncCheck
	trees := map[string]*parse.Tree{}
	if _, err := tree.Parse(string(text), "", "", trees); err != nil {
		return err
	}
	for _, t := range trees {
		r.tag = false
		r.node(path, t.Root)
	}
	return nil
}

func (r *reading) node(path string, n parse.Node) {
	switch n := n.(type) {
	case *parse.ListNode:
		if n != nil {
			for _, inner := range n.Nodes {
				r.node(path, inner)
			}
		}
	case *parse.ActionNode:
		r.node(path, n.Pipe)
	case *parse.IfNode:
		r.branch(path, &n.BranchNode)
	case *parse.RangeNode:
		r.branch(path, &n.BranchNode)
	case *parse.WithNode:
		r.branch(path, &n.BranchNode)
	case *parse.TemplateNode:
		r.node(path, n.Pipe)
	case *parse.PipeNode:
		if n != nil {
			for _, c := range n.Cmds {
				r.command(path, c)
			}
		}
	case *parse.ChainNode:
		r.node(path, n.Node)
	case *parse.TextNode:
		r.plain(path, string(n.Text))
	}
}

func (r *reading) branch(path string, b *parse.BranchNode) {
	r.node(path, b.Pipe)
	before := r.tag
	r.node(path, b.List)
	if b.ElseList != nil {
		r.tag = before
		r.node(path, b.ElseList)
	}
}

// command reads one call in a template, and those inside it.
func (r *reading) command(path string, c *parse.CommandNode) {
	var names []string
	switch f := c.Args[0].(type) {
	case *parse.FieldNode:
		names = f.Ident
	case *parse.VariableNode:
		names = f.Ident
	}
	says := len(names) > 0 && names[len(names)-1] == "T" && len(c.Args) > 1
	if says {
		if field, is := c.Args[1].(*parse.FieldNode); is {
			r.named = append(r.named, field.Ident[len(field.Ident)-1])
		}
	}
	for i, arg := range c.Args {
		text, is := arg.(*parse.StringNode)
		switch {
		case is && says && i == 1:
			r.keys[text.Text] = true
		case is && says && aWord(text.Text):
			r.raw = append(r.raw, fmt.Sprintf("%s: %q in %s", path, text.Text, c))
		}
		r.node(path, arg)
	}
}

var (
	brand    = regexp.MustCompile(`Wellstowed`)
	entities = regexp.MustCompile(`&[a-z]+;`)
)

// plain fails where a page holds text between its tags that no key gives, or a word in an
// attribute that is read out.
func (r *reading) plain(path, text string) {
	var between strings.Builder
	for _, c := range entities.ReplaceAllString(brand.ReplaceAllString(text, ""), "") {
		switch {
		case c == '<':
			r.tag = true
			between.WriteRune(' ')
		case c == '>':
			r.tag = false
		case !r.tag:
			between.WriteRune(c)
		}
	}
	if word.MatchString(between.String()) && !attributes.MatchString(between.String()) {
		r.raw = append(r.raw, fmt.Sprintf("%s: %q stands in the page", path, strings.TrimSpace(between.String())))
	}
	for _, m := range readOut.FindAllStringSubmatch(text, -1) {
		if word.MatchString(m[2]) {
			r.raw = append(r.raw, fmt.Sprintf("%s: %s stands in the page", path, m[0]))
		}
	}
}

// attributes are what a template gives that is called inside a tag.
var attributes = regexp.MustCompile(`^[^<>]*[a-z]="`)

// readOut are the attributes that people see or hear.
var readOut = regexp.MustCompile(` (title|placeholder|alt|aria-label)="([^"]*)`)
