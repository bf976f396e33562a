package main

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/token"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A fate is what became of a fault.
type fate uint8

const (
	unviable fate = iota
	survived
	failed // by a test
	late
)

// A binary is the tests of a package, compiled with faults of which one is awake at a time.
type binary struct {
	dir, path string
	asleep    map[int]bool // those in it
	parts     []part
}

// A part is tests that run together, and how long they take without a fault.
type part struct {
	tests []string
	takes time.Duration
}

// inside reports whether a fault can stand in a copy of its function, or of a variable's value, beside others.
func (m edit) inside() bool {
	if fn, ok := m.home.(*ast.FuncDecl); ok {
		_, ok = forward(fn)
		return ok
	}
	return m.home != nil
}

// forward returns a call from inside of a function that hands its arguments on to another, less the name.
func forward(fn *ast.FuncDecl) (call string, ok bool) {
	types := ""
	if fn.Type.TypeParams != nil {
		for _, f := range fn.Type.TypeParams.List {
			for _, name := range f.Names {
				types += name.Name + ","
			}
		}
		types = "[" + types + "]"
	}
	args := ""
	for _, f := range fn.Type.Params.List {
		if f.Names == nil {
			return "", false
		}
		for _, name := range f.Names {
			args += name.Name
			if _, ok := f.Type.(*ast.Ellipsis); ok {
				args += "..."
			}
			args += ","
			if name.Name == "_" {
				return "", false
			}
		}
	}
	if fn.Recv != nil && (fn.Recv.List[0].Names == nil || fn.Recv.List[0].Names[0].Name == "_") {
		return "", false
	}
	return types + "(" + args + ")", fn.Name.Name != "init" && fn.Name.Name != "main"
}

// copies returns a file with copies of its functions and values, one for each fault, and the way to them. The lines
// of a copy are said to be of a file m and the fault's number, so that the compiler tells which is wrong.
func (f *source) copies(faults []edit) string {
	ways, bodies := make(map[ast.Node]string), ""
	awake, values := make(map[ast.Node]string), make(map[ast.Node]string)
	for _, m := range faults {
		if m.file != f {
			continue
		}
		if fn, ok := m.home.(*ast.FuncDecl); ok {
			ways[fn] += m.way(fn)
			bodies += fmt.Sprintf("//line m%d:1\n%s\n", m.id, m.in(fn.Pos(), fn.Name.Pos())+m.name(fn)+m.in(fn.Name.End(), fn.End()))
			continue
		}
		awake[m.home] += fmt.Sprintf("%d,", m.id)
		values[m.home] += fmt.Sprintf("//line m%d:1\n%s,\n", m.id, m.in(m.home.Pos(), m.home.End()))
	}
	text, at := "", f.tree.FileStart
	for _, d := range f.tree.Decls {
		if fn, ok := d.(*ast.FuncDecl); ok && ways[fn] != "" {
			text += f.slice(at, fn.Body.Lbrace+1) + "\nswitch awake {\n" + ways[fn] + "}\n"
			at = fn.Body.Lbrace + 1
		}
		ast.Inspect(d, func(n ast.Node) bool {
			s, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			for _, v := range s.Values {
				if values[v] == "" {
					continue
				}
				of := ""
				if s.Type != nil {
					of = "[" + f.slice(s.Type.Pos(), s.Type.End()) + "]"
				}
				text += f.slice(at, v.Pos()) + "oneOf" + of + "([]int{0," + awake[v] + "},\n" + f.slice(v.Pos(), v.End()) + ",\n" + values[v] + ")"
				at = v.End()
			}
			return false
		})
	}
	return text + f.slice(at, f.tree.FileEnd) + "\n" + bodies
}

// in returns a stretch of the file with the fault in it, where it stands there.
func (m edit) in(from, to token.Pos) string {
	a, b := m.file.offset(from), m.file.offset(to)
	if m.from < a || m.to > b {
		return m.file.text[a:b]
	}
	return m.file.text[a:m.from] + m.with + m.file.text[m.to:b]
}

// name is that of a function's copy.
func (m edit) name(fn *ast.FuncDecl) string { return fmt.Sprintf("%s_%d", fn.Name.Name, m.id) }

// way leads from a function to its copy.
func (m edit) way(fn *ast.FuncDecl) string {
	call, _ := forward(fn)
	call = m.name(fn) + call
	if fn.Recv != nil {
		call = fn.Recv.List[0].Names[0].Name + "." + call
	}
	if fn.Type.Results != nil {
		return fmt.Sprintf("case %d: return %s\n", m.id, call)
	}
	return fmt.Sprintf("case %d: %s; return\n", m.id, call)
}

// chooser is the file that wakes a fault in a package whose name goes before it.
const chooser = `

import (
	"os"
	"strconv"
)

var awake, _ = strconv.Atoi(os.Getenv("AWAKE"))

func oneOf[T any](ids []int, values ...T) T {
	for i, id := range ids {
		if id == awake {
			return values[i]
		}
	}
	return values[0]
}
`

// numbered matches a complaint about a copy.
var numbered = regexp.MustCompile(`\bm([0-9]+):[0-9]+`)

// build compiles the tests of p with faults that stand in copies, less those of which compiler or vet complain.
func (p *pkg) build(temp string, faults []edit) (*binary, error) {
	b := &binary{dir: p.Dir, path: filepath.Join(temp, "test"), asleep: make(map[int]bool)}
	for _, m := range faults {
		b.asleep[m.id] = true
	}
	for {
		files := map[string]string{filepath.Join(p.Dir, "awake.go"): "package " + p.Name + chooser}
		for _, f := range p.files {
			files[f.path] = f.copies(faults)
		}
		out, err := p.compile(temp, files, b.path)
		if err == nil {
			return b, nil
		}
		wrong := numbered.FindAllStringSubmatch(out, -1)
		if wrong == nil {
			return nil, fmt.Errorf("%w: %s", err, out)
		}
		for _, m := range wrong {
			id, _ := strconv.Atoi(m[1])
			delete(b.asleep, id)
		}
		faults = slices.DeleteFunc(slices.Clone(faults), func(m edit) bool { return !b.asleep[m.id] })
	}
}

// compile makes the tests of p with other text in some files.
func (p *pkg) compile(temp string, files map[string]string, to string) (string, error) {
	if err := os.MkdirAll(temp, 0o700); err != nil {
		return "", err
	}
	var overlay struct{ Replace map[string]string }
	overlay.Replace = make(map[string]string)
	for _, path := range slices.Sorted(maps.Keys(files)) {
		to := filepath.Join(temp, filepath.Base(path))
		if err := os.WriteFile(to, []byte(files[path]), 0o600); err != nil {
			return "", err
		}
		overlay.Replace[path] = to
	}
	text, err := json.Marshal(overlay)
	if err != nil {
		return "", err
	}
	list := filepath.Join(temp, "overlay.json")
	if err := os.WriteFile(list, text, 0o600); err != nil {
		return "", err
	}
	for _, args := range [][]string{
		{"build", "-gcflags=-e", "-overlay", list, p.path},
		{"vet", "-overlay", list, p.path},
		{"test", "-c", "-vet=off", "-gcflags=-e", "-overlay", list, "-o", to, p.path},
	} {
		if out, err := run(root, nil, "go", args...); err != nil {
			return out, err
		}
	}
	return "", nil
}

// ended matches the end of a test, and what it took.
var ended = regexp.MustCompile(`^--- [A-Z]+: (\w+) \(([0-9.]+s)\)`)

// clean runs the tests without a fault, and parts them by what they take: all quick ones together, then those in
// between, then each that is slow.
func (b *binary) clean() error {
	out, err := run(b.dir, []string{"AWAKE=0"}, b.path, "-test.v")
	if err != nil {
		return fmt.Errorf("got tests that fail without a fault, want them to pass: %s", out)
	}
	var quick, middling part
	var each []part
	for lines := bufio.NewScanner(strings.NewReader(out)); lines.Scan(); {
		m := ended.FindStringSubmatch(lines.Text())
		if m == nil {
			continue
		}
		takes, _ := time.ParseDuration(m[2])
		switch {
		case takes < 20*time.Millisecond:
			quick.add(m[1], takes)
		case takes < 200*time.Millisecond:
			middling.add(m[1], takes)
		default:
			each = append(each, part{[]string{m[1]}, takes})
		}
	}
	slices.SortFunc(each, func(a, b part) int { return cmp.Compare(a.takes, b.takes) })
	b.parts = append([]part{quick, middling}, each...)
	b.parts = slices.DeleteFunc(b.parts, func(p part) bool { return p.tests == nil })
	return nil
}

func (p *part) add(test string, takes time.Duration) {
	p.tests, p.takes = append(p.tests, test), p.takes+takes
}

// try finds the fate of one fault: in the binary of all, or else in one of its own.
func (p *pkg) try(b *binary, m edit, temp string) fate {
	if m.inside() {
		if !b.asleep[m.id] {
			return unviable
		}
		return b.fate(m.id)
	}
	own := &binary{dir: b.dir, path: filepath.Join(temp, "test"), parts: b.parts}
	defer os.RemoveAll(temp)
	changed := map[string]string{m.file.path: m.file.text[:m.from] + m.with + m.file.text[m.to:]}
	if _, err := p.compile(temp, changed, own.path); err != nil {
		return unviable
	}
	return own.fate(m.id)
}

// limited runs a command that may take so many seconds of the processor, which the load of the machine does not
// change as it does time by the clock, and so many KiB of memory.
const limited = `ulimit -t "$1" -v "$2"; shift 2; exec "$@"`

// memory is what a fault may take that allocates without end, in KiB.
const memory = 4 << 20

// fate runs the tests with one fault awake.
func (b *binary) fate(id int) fate {
	for _, part := range b.parts {
		limit := 2 + int(5*part.takes.Seconds())
		ctx, cancel := context.WithTimeout(context.Background(), time.Duration(30*limit)*time.Second) // for one that only waits
		cmd := exec.CommandContext(ctx, "bash", "-c", limited, "bash", strconv.Itoa(limit), strconv.Itoa(memory),
			b.path, "-test.failfast", "-test.run=^("+strings.Join(part.tests, "|")+")$")
		cmd.Dir, cmd.Env = b.dir, append(os.Environ(), "AWAKE="+strconv.Itoa(id))
		err := cmd.Run()
		waited := ctx.Err() != nil
		cancel()
		if err == nil {
			continue
		}
		if used := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(); waited || used.Seconds() > 0.9*float64(limit) {
			return late
		}
		return failed
	}
	return survived
}
