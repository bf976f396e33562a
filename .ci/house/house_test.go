// Package house checks the source against the rules of the house: who imports whom, what stands at the top
// level, that quantities are not multiplied by their like, that every exported name is documented, that every
// library package has an example, and that the exported names are those of ../api.txt.
//
// Run it with -count=1: the go command does not see that these tests depend on the files they read.
package house

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path"
	"strings"
	"sync"
	"testing"
)

const (
	root   = "../.."
	module = "example.org/saddlepoint"
)

// topLevel is what the checkout holds, and no more.
var topLevel = []string{
	".ci", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md", "action", "examples", "fret",
	"go.mod", "go.sum", "intonation", "repl", "tension", "units",
}

func TestTopLevel(t *testing.T) {
	extra := make(map[string]string)
	for _, f := range files(t) {
		top, _, _ := strings.Cut(f, "/")
		extra[top] = f
	}
	for _, want := range topLevel {
		if extra[want] == "" {
			t.Errorf("%s:1: got nothing, want it at the top level", want)
		}
		delete(extra, want)
	}
	for top, f := range extra {
		t.Errorf("%s:1: got %s at the top level, want only %s", f, top, strings.Join(topLevel, ", "))
	}
}

// files returns the files of the checkout, tracked or about to be, by their slashed paths from its root.
// What .gitignore names does not count, nor does a file that was deleted and is still in the index.
func files(t *testing.T) []string {
	t.Helper()
	// The checkout may belong to someone else than the user who runs the checks.
	out, err := command("git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others", "--exclude-standard")
	if err != nil {
		t.Fatal(err)
	}
	var there []string
	for _, f := range strings.Split(strings.TrimRight(string(out), "\x00"), "\x00") {
		if _, err := os.Lstat(path.Join(root, f)); err == nil {
			there = append(there, f)
		}
	}
	return there
}

// A pkg is a package of ours, parsed and type-checked without its tests.
type pkg struct {
	ImportPath, Name, Export string
	DepOnly                  bool
	GoFiles                  []string
	TestGoFiles              []string
	XTestGoFiles             []string

	fset  *token.FileSet
	files []*ast.File
	types *types.Package
	info  *types.Info
}

// where gives a position as a file below the root and a line.
func (p *pkg) where(n ast.Node) string {
	pos := p.fset.Position(n.Pos())
	return fmt.Sprintf("%s:%d", strings.TrimPrefix(pos.Filename, root+"/"), pos.Line)
}

// dir returns the folder of p.
func (p *pkg) dir() string { return path.Join(root, strings.TrimPrefix(p.ImportPath, module)) }

// isLibrary reports whether others can import p.
func (p *pkg) isLibrary() bool {
	return p.Name != "main" && !strings.Contains(p.ImportPath+"/", "/internal/")
}

// packages returns every package of ours, and fails t when one does not compile.
func packages(t *testing.T) []*pkg {
	t.Helper()
	ours, err := load()
	if err != nil {
		t.Fatal(err)
	}
	return ours
}

var load = sync.OnceValues(func() ([]*pkg, error) {
	out, err := command("go", "list", "-deps", "-export", "-json=ImportPath,Name,Export,DepOnly,GoFiles,TestGoFiles,XTestGoFiles", "./...")
	if err != nil {
		return nil, err
	}
	var ours []*pkg
	exports := make(map[string]string)
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		p := &pkg{fset: token.NewFileSet()}
		if err := dec.Decode(p); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		exports[p.ImportPath] = p.Export
		if !p.DepOnly {
			ours = append(ours, p)
		}
	}
	for _, p := range ours {
		if err := p.check(exports); err != nil {
			return nil, err
		}
	}
	return ours, nil
})

// check parses and type-checks p, taking what it imports from the compiler's export data.
func (p *pkg) check(exports map[string]string) error {
	for _, name := range p.GoFiles {
		f, err := parser.ParseFile(p.fset, path.Join(p.dir(), name), nil, parser.ParseComments)
		if err != nil {
			return err
		}
		p.files = append(p.files, f)
	}
	open := func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) }
	conf := types.Config{Importer: importer.ForCompiler(p.fset, "gc", open)}
	p.info = &types.Info{
		Types: make(map[ast.Expr]types.TypeAndValue),
		Uses:  make(map[*ast.Ident]types.Object),
	}
	var err error
	p.types, err = conf.Check(p.ImportPath, p.fset, p.files, p.info)
	return err
}

// command runs a command at the root and returns what it wrote.
func command(name string, args ...string) ([]byte, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = root
	out, err := cmd.Output()
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		return nil, fmt.Errorf("%s: %v\n%s", cmd, err, exit.Stderr)
	}
	return out, err
}
