// Command mutate breaks lines of the library, one at a time and drawn at random, and runs
// the tests: what survives is a line that no test holds, or that does nothing.
//
//	go run ./testdata/mutate                     # 20 breaks anywhere
//	go run ./testdata/mutate -n 100 -seed 7 ./swash ./pitch
//
// No file is changed: the go command overlays the broken one. The tests of the broken
// package run first; if they pass, those of all packages that import it.
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

func main() {
	log.SetFlags(0)
	n := flag.Int("n", 20, "`number` of breaks")
	seed := flag.Uint64("seed", 1, "`seed` of the draw")
	own := flag.Bool("own", false, "run the tests of the broken package alone")
	flag.Parse()
	patterns := flag.Args()
	if len(patterns) == 0 {
		patterns = []string{"./..."}
	}
	packages := list(patterns)
	random := rand.New(rand.NewPCG(*seed, 0))
	survived := 0
	for i := range *n {
		p := packages[random.IntN(len(packages))]
		b := p.draw(random)
		if b == nil {
			continue
		}
		fmt.Printf("%d %s: %s: ", i+1, b.where, b.what)
		if by := b.caught(p, packages, *own); by != "" {
			fmt.Println("caught by", by)
			continue
		}
		survived++
		fmt.Println("SURVIVED")
	}
	fmt.Printf("%d of %d survived\n", survived, *n)
	if survived > 0 {
		os.Exit(1)
	}
}

// pkg is a package of the module, as go list says it.
type pkg struct {
	Dir, ImportPath string
	GoFiles         []string
	Deps            []string
}

// list returns the packages that hold code, larger ones more often.
func list(patterns []string) []pkg {
	out, err := exec.Command("go", append([]string{"list", "-json"}, patterns...)...).Output()
	if err != nil {
		log.Fatal(err)
	}
	var all []pkg
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var p pkg
		if err := d.Decode(&p); err != nil {
			log.Fatal(err)
		}
		for range p.GoFiles {
			all = append(all, p)
		}
	}
	return all
}

// breakage is one changed file.
type breakage struct {
	file, where, what string
	source            []byte
}

// draw breaks one place of a package; nil where the file drawn has none.
func (p *pkg) draw(random *rand.Rand) *breakage {
	path := filepath.Join(p.Dir, p.GoFiles[random.IntN(len(p.GoFiles))])
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, parser.ParseComments)
	if err != nil {
		log.Fatal(err)
	}
	var places []place
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Body != nil {
			ast.Inspect(f.Body, func(n ast.Node) bool {
				if failure(n) {
					return false // what comes with an error is not looked at
				}
				places = append(places, placesOf(n)...)
				return true
			})
		}
	}
	if len(places) == 0 {
		return nil
	}
	at := places[random.IntN(len(places))]
	position := set.Position(at.pos)
	what := at.do()
	var source bytes.Buffer
	if err := format.Node(&source, set, file); err != nil {
		log.Fatal(err)
	}
	name := path
	if here, err := os.Getwd(); err == nil {
		name = strings.TrimPrefix(path, here+string(filepath.Separator))
	}
	return &breakage{path, fmt.Sprintf("%s:%d", name, position.Line), what, source.Bytes()}
}

// failure reports a return of several values, the last of which is an error.
func failure(n ast.Node) bool {
	r, ok := n.(*ast.ReturnStmt)
	if !ok || len(r.Results) < 2 {
		return false
	}
	last, ok := r.Results[len(r.Results)-1].(*ast.Ident)
	return !ok || last.Name == "err"
}

// place is somewhere that can be broken; do breaks it and says how.
type place struct {
	pos token.Pos
	do  func() string
}

var swaps = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
}

func placesOf(n ast.Node) (places []place) {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		if to, ok := swaps[n.Op]; ok {
			places = append(places, place{n.OpPos, func() string {
				was := n.Op
				n.Op = to
				return fmt.Sprintf("%v becomes %v", was, to)
			}})
		}
	case *ast.BasicLit:
		x, err := strconv.ParseFloat(n.Value, 64)
		if err == nil {
			places = append(places, place{n.Pos(), func() string {
				was := n.Value
				if n.Kind == token.INT {
					n.Value = strconv.FormatFloat(x+1, 'f', 0, 64)
				} else {
					n.Value = strconv.FormatFloat(1.01*x+1e-3*float64(b2i(x == 0)), 'g', -1, 64)
				}
				return was + " becomes " + n.Value
			}})
		}
	case *ast.IfStmt:
		places = append(places, place{n.If, func() string {
			n.Cond = &ast.UnaryExpr{Op: token.NOT, X: &ast.ParenExpr{X: n.Cond}}
			return "a condition becomes its opposite"
		}})
	case *ast.BlockStmt:
		for i, s := range n.List {
			if a, ok := s.(*ast.AssignStmt); ok && a.Tok != token.DEFINE {
				places = append(places, place{s.Pos(), func() string {
					blank := make([]ast.Expr, len(a.Lhs))
					for k := range blank {
						blank[k] = ast.NewIdent("_")
					}
					n.List[i] = &ast.AssignStmt{Lhs: blank, Tok: token.ASSIGN, Rhs: a.Rhs}
					return "an assignment is dropped"
				}})
			}
		}
	}
	return places
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// caught runs the tests, and returns the package whose tests fail; what does not compile
// counts as caught by the compiler.
func (b *breakage) caught(p pkg, packages []pkg, own bool) string {
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	broken, overlay := filepath.Join(dir, "broken.go"), filepath.Join(dir, "overlay.json")
	replace, _ := json.Marshal(map[string]any{"Replace": map[string]string{b.file: broken}})
	for path, data := range map[string][]byte{broken: b.source, overlay: replace} {
		if err := os.WriteFile(path, data, 0o600); err != nil {
			log.Fatal(err)
		}
	}
	if exec.Command("go", "build", "-overlay", overlay, p.ImportPath).Run() != nil {
		return "the compiler"
	}
	users := []string{p.ImportPath}
	if !own {
		for _, q := range packages {
			if slices.Contains(q.Deps, p.ImportPath) && !slices.Contains(users, q.ImportPath) {
				users = append(users, q.ImportPath)
			}
		}
	}
	for _, path := range users {
		out, err := exec.Command("go", "test", "-overlay", overlay, "-timeout", "5m", path).CombinedOutput()
		if err != nil && !strings.Contains(string(out), "no test files") {
			return path
		}
	}
	return ""
}
