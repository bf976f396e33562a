// Mutate plants small faults in packages of this module, one at a time, and runs a package's own tests against
// each: a fault that no test notices is printed. It ends with the share that was noticed, and with status 1 where
// that is under nine in ten. Faults that do not compile, or that vet refuses, do not count.
//
//	go -C .ci/mutate run . [-n FAULTS] [-seed N] [-again FILE] PACKAGE|FILE.go...
//
// Faults inside functions go into one test binary, in copies of the function; the rest have one each. The tests
// run quickest first; five times their clean time and 2 s more, of the processor, count as a fault noticed. A
// survivor that survivors.txt lists, with why it stays, is marked, and counts all the same. With -again, only the faults
// that an earlier run printed into a file are tried.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

const (
	root    = "../.."
	least   = 0.9 // of the viable faults, to be noticed
	workers = 2   // at a time
)

func main() {
	n := flag.Int("n", 0, "faults to draw in each package; 0 for all")
	seed := flag.Int64("seed", 1, "of the draw")
	again := flag.String("again", "", "file of survivors, printed before: try no others")
	flag.Parse()
	only, err := printed(*again)
	if err != nil {
		fatal(err)
	}
	listed, err := equivalents("survivors.txt")
	if err != nil {
		fatal(err)
	}
	good := true
	for _, name := range flag.Args() {
		share, err := mutate(name, *n, *seed, only, listed)
		if err != nil {
			fatal(err)
		}
		good = good && share >= least
	}
	if !good {
		os.Exit(1)
	}
}

func fatal(err error) {
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

// equivalents returns the lines of a list but its headings and blank lines.
func equivalents(file string) (map[string]bool, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	listed := make(map[string]bool)
	for _, line := range strings.Split(string(text), "\n") {
		if line != "" && !strings.HasPrefix(line, "#") {
			listed[line] = true
		}
	}
	return listed, nil
}

// printed returns the faults that a run printed into a file, or nil for no file.
func printed(file string) (map[string]bool, error) {
	if file == "" {
		return nil, nil
	}
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	faults := make(map[string]bool)
	for _, line := range strings.Split(string(text), "\n") {
		if _, fault, ok := strings.Cut(line, "\t"); ok {
			faults[fault] = true
		}
	}
	return faults, nil
}

// mutate tries the faults of one package, prints those that survive, and returns the share noticed.
func mutate(name string, n int, seed int64, only, listed map[string]bool) (float64, error) {
	p, err := load(name)
	if err != nil {
		return 0, err
	}
	drawn := p.draw(n, seed, only)
	temp, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(temp)
	b, err := p.build(filepath.Join(temp, "all"), slices.DeleteFunc(slices.Clone(drawn), func(m edit) bool { return !m.inside() }))
	if err != nil {
		return 0, err
	}
	if err := b.clean(); err != nil {
		return 0, err
	}
	fates := make([]fate, len(drawn)+1)
	var wait sync.WaitGroup
	ids := make(chan edit)
	for range workers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for m := range ids {
				fates[m.id] = p.try(b, m, filepath.Join(temp, fmt.Sprint(m.id)))
			}
		}()
	}
	for _, m := range drawn {
		ids <- m
	}
	close(ids)
	wait.Wait()
	return report(name, drawn, fates, listed), nil
}

// report prints the survivors and the score, which it returns.
func report(name string, drawn []edit, fates []fate, listed map[string]bool) float64 {
	var count [late + 1]int
	equivalent := 0
	for _, m := range drawn {
		is := fates[m.id]
		count[is]++
		if is != survived {
			continue
		}
		mark := ""
		if listed[m.String()] {
			mark = " (listed)"
			equivalent++
		}
		fmt.Printf("%d%s\t%v\n", 1+strings.Count(m.file.text[:m.from], "\n"), mark, m)
	}
	viable := len(drawn) - count[unviable]
	killed := viable - count[survived]
	score := float64(killed) / float64(max(viable, 1))
	fmt.Printf("%s: %d faults, %d viable, %d noticed (%d by time), %.1f %%; %d survivors, %d of them listed\n",
		name, len(drawn), viable, killed, count[late], 100*score, count[survived], equivalent)
	return score
}

// A source is one file of a package.
type source struct {
	name string // from the root of the module
	path string
	text string
	tree *ast.File
	fset *token.FileSet
}

func (f *source) offset(p token.Pos) int          { return f.fset.Position(p).Offset }
func (f *source) slice(from, to token.Pos) string { return f.text[f.offset(from):f.offset(to)] }

// A pkg is a package to be tried.
type pkg struct {
	Name, Dir string
	GoFiles   []string

	path  string // from the root
	only  string // of its files, the one to be tried; or all
	files []*source
}

// load reads the package of that name, or of that file.
func load(name string) (*pkg, error) {
	p := new(pkg)
	if filepath.Ext(name) == ".go" {
		name, p.only = filepath.Split(name)
	}
	p.path = "./" + filepath.ToSlash(filepath.Clean(name))
	out, err := run(root, nil, "go", "list", "-json=Name,Dir,GoFiles", p.path)
	if err != nil {
		return nil, errors.New(out)
	}
	if err := json.Unmarshal([]byte(out), p); err != nil {
		return nil, err
	}
	for _, file := range p.GoFiles {
		f := &source{name: filepath.Join(name, file), path: filepath.Join(p.Dir, file), fset: token.NewFileSet()}
		text, err := os.ReadFile(f.path)
		if err != nil {
			return nil, err
		}
		f.text = string(text)
		if f.tree, err = parser.ParseFile(f.fset, f.path, text, parser.SkipObjectResolution); err != nil {
			return nil, err
		}
		p.files = append(p.files, f)
	}
	return p, nil
}

// draw returns n of the faults that p can have, or all, numbered from 1; of those in only, where that is not nil.
func (p *pkg) draw(n int, seed int64, only map[string]bool) []edit {
	var all []edit
	for _, f := range p.files {
		if p.only == "" || p.only == filepath.Base(f.name) {
			all = append(all, f.edits()...)
		}
	}
	if only != nil {
		all = slices.DeleteFunc(all, func(m edit) bool { return !only[m.String()] })
	}
	for i := range all {
		all[i].id = i + 1
	}
	if n == 0 || n >= len(all) {
		return all
	}
	order := rand.New(rand.NewSource(seed)).Perm(len(all))[:n]
	slices.Sort(order)
	drawn := make([]edit, n)
	for i, at := range order {
		drawn[i] = all[at]
		drawn[i].id = i + 1
	}
	return drawn
}

// run returns what a command says, in a folder and with more environment.
func run(dir string, env []string, name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Env = dir, append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	return string(out), err
}
