package repl

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/units"
)

// eval works out an expression.
func (s *Session) eval(n *node) (value, error) {
	switch n.op {
	case opValue:
		return n.val, nil
	case opName:
		return s.name(n)
	case opCall:
		return s.callFunction(n)
	case opMinus:
		v, err := s.eval(n.kids[0])
		if err != nil {
			return value{}, err
		}
		return negative(n, v)
	}
	a, err := s.eval(n.kids[0])
	if err != nil {
		return value{}, err
	}
	b, err := s.eval(n.kids[1])
	if err != nil {
		return value{}, err
	}
	v, err := combine(n, a.measured(), b.measured())
	a4, _ := s.record.Concert()
	if f := float64(v.pitch.Frequency(a4)); err == nil && (v.x-v.x != 0 || !(f > 0 && f <= math.MaxFloat64)) {
		err = faultf(n.at, "got a result too large to hold, want smaller numbers")
	}
	return v, err
}

func (s *Session) name(n *node) (value, error) {
	if v, ok := s.names[n.word]; ok {
		return v, nil
	}
	for c := range classNames {
		if w := s.words.get(n.word, class(c)); w != nil {
			want := "it as in " + w.example
			if class(c) == classReport {
				want = "it alone on its line"
			}
			return value{}, faultf(n.at, "got the %s %s, want %s", classNames[c], n.word, want)
		}
	}
	hint := didYouMean(s.nearName(n.word))
	if n.word == "quit" || n.word == "exit" {
		hint = "Ctrl-D leaves"
	}
	return value{}, &fault{n.at, false, gotWant("the unknown word "+units.Quote(n.word), "a word that help lists, or a name that was given a value", hint)}
}

// nearName returns the word or name that an unknown one is a slip of.
func (s *Session) nearName(name string) string {
	var names []string
	for _, w := range s.words.list {
		if w.class != classUnit && w.name != "A4" {
			names = append(names, w.name)
		}
	}
	for own := range s.names {
		names = append(names, own)
	}
	return nearest(name, names)
}

// measured makes a stack its thickness, for sums.
func (v value) measured() value {
	if v.kind == kindStack {
		return length(v.total())
	}
	return value{kind: v.kind, x: v.x, pitch: v.pitch, string: v.string}
}

func negative(n *node, v value) (value, error) {
	v = v.measured()
	if v.kind >= kindPitch {
		return value{}, faultf(n.at, "got a minus before %s, want it before a number or a quantity", kindWord(v.kind))
	}
	v.x = -v.x
	return v, nil
}

// combine applies an operator of two operands, dimensions checked.
func combine(n *node, a, b value) (value, error) {
	switch n.op {
	case opAdd, opSub:
		return add(n, a, b)
	case opMul:
		return multiply(n, a, b)
	case opDiv:
		return divide(n, a, b)
	}
	if a.kind != units.KindNumber || b.kind != units.KindNumber {
		return value{}, mismatch(n, a, b)
	}
	v := value{x: math.Pow(a.x, b.x)}
	if math.IsNaN(v.x) {
		return value{}, faultf(n.at, "got a fraction for a power of a negative number, want a whole number")
	}
	if math.IsInf(v.x, 0) && a.x == 0 {
		return value{}, faultf(n.at, "got a negative power of 0, want another number")
	}
	return v, nil
}

func mismatch(n *node, a, b value) error {
	return faultf(n.at, "got %s %s %s, want kinds that go together", kindWord(a.kind), opSigns[n.op], kindWord(b.kind))
}

// add adds or subtracts: like and like, or cents to a pitch or a frequency. The
// difference of two pitches is cents.
func add(n *node, a, b value) (value, error) {
	sign := 1.0
	if n.op == opSub {
		sign = -1
	}
	switch {
	case a.kind == kindPitch && b.kind == units.KindCents:
		a.pitch.Off += units.Cents(sign * b.x)
	case a.kind == units.KindFrequency && b.kind == units.KindCents:
		a.x = float64(units.Frequency(a.x).Shift(units.Cents(sign * b.x)))
	case a.kind == kindPitch && b.kind == kindPitch && n.op == opSub:
		return value{kind: units.KindCents, x: float64(a.pitch.Note-b.pitch.Note)*100 + float64(a.pitch.Off-b.pitch.Off)}, nil
	case a.kind == b.kind && a.kind < kindPitch:
		a.x += sign * b.x
	default:
		return value{}, mismatch(n, a, b)
	}
	return a, nil
}

func multiply(n *node, a, b value) (value, error) {
	if a.kind == units.KindNumber || a.kind == units.KindTurns && b.kind == units.KindThread {
		a, b = b, a
	}
	switch {
	case a.kind < kindPitch && b.kind == units.KindNumber:
		a.x *= b.x
	case a.kind == units.KindThread && b.kind == units.KindTurns:
		return length(units.Length(a.x * b.x)), nil
	default:
		return value{}, mismatch(n, a, b)
	}
	return a, nil
}

func divide(n *node, a, b value) (value, error) {
	var kind kind
	switch {
	case a.kind >= kindPitch || b.kind >= kindPitch:
		return value{}, mismatch(n, a, b)
	case a.kind == b.kind:
		kind = units.KindNumber
	case b.kind == units.KindNumber:
		kind = a.kind
	case a.kind == units.KindLength && b.kind == units.KindThread:
		kind = units.KindTurns
	default:
		return value{}, mismatch(n, a, b)
	}
	if b.x == 0 {
		return value{}, faultf(n.at, "got a division by 0, want another number")
	}
	return value{kind: kind, x: a.x / b.x}, nil
}

// function is a word that takes arguments.
type function struct {
	params []param
	eval   func(*call) (value, error)
}

// param is one thing that a function takes.
type param struct {
	name  string
	kind  kind
	spare bool // may be left out: the record has it, or there is a usual value
	above bool // must be more than 0
	many  bool // takes all that fit
}

// accepts reports whether a value can stand for the parameter.
func (p param) accepts(k kind) bool {
	switch p.kind {
	case kindPitch:
		return k == kindPitch || k == units.KindFrequency || k == kindRef
	case kindString:
		return k == kindString || k == kindRef
	case units.KindThread:
		return k == units.KindThread || k == units.KindLength
	}
	return k == p.kind
}

func (p param) describe() string {
	word := kindWord(p.kind)
	if strings.HasSuffix(word, p.name) {
		return word
	}
	return word + ", the " + p.name
}

// call is a function being worked out: for each parameter, the values given.
type call struct {
	session *Session
	node    *node
	params  []param
	given   [][]argument
}

type argument struct {
	at, end int // bytes of the line
	val     value
}

func (s *Session) callFunction(n *node) (value, error) {
	f := s.words.get(n.word, classFunction).call
	c := &call{session: s, node: n, params: f.params, given: make([][]argument, len(f.params))}
	args := make([]argument, len(n.kids))
	for i, kid := range n.kids {
		v, err := s.eval(kid)
		if err != nil {
			return value{}, err
		}
		args[i] = argument{startOf(kid), kid.end, v}
	}
	if err := c.match(args); err != nil {
		return value{}, err
	}
	v, err := f.eval(c)
	flat := math.IsInf(v.x, 1) && n.word == "radius"
	if err == nil && v.x-v.x != 0 && !flat {
		err = fmt.Errorf("got no value for these arguments, want others")
	}
	return v, faultAt(n.at, err)
}

// startOf is where the text of an expression begins.
func startOf(n *node) int {
	if n.op >= opAdd {
		return startOf(n.kids[0])
	}
	return n.at
}

// match gives the arguments to the parameters, in order, by kind.
func (c *call) match(args []argument) error {
	next := 0
	for i, p := range c.params {
		for next < len(args) && p.accepts(args[next].val.kind) && (len(c.given[i]) == 0 || p.many) {
			if err := p.check(args[next]); err != nil {
				return err
			}
			c.given[i] = append(c.given[i], args[next])
			next++
		}
		if len(c.given[i]) == 0 && !p.spare {
			return c.misfit(args, next, i)
		}
	}
	if next < len(args) {
		return c.misfit(args, next, 0)
	}
	return nil
}

func (p param) check(a argument) error {
	if p.above && a.val.kind < kindPitch && !(a.val.x > 0) {
		return faultf(a.at, "got %s for the %s, want more than 0", view{digits: -1}.text(a.val), p.name)
	}
	return nil
}

// misfit says what was wanted where the next argument stands.
func (c *call) misfit(args []argument, next, at int) error {
	line := c.session.line
	hint := units.CommaHint(line[c.node.at:min(c.node.end, len(line))])
	form := c.session.words.get(c.node.word, classFunction).form
	if next == len(args) {
		return faultf(c.node.end-1, "%w", gotWant("nothing more", c.params[at].describe()+", as in "+form, hint))
	}
	got := args[next]
	if hint == "" && got.val.kind == units.KindNumber {
		hint = c.unitHint(got, line[got.at:min(got.end, len(line))])
	}
	return faultf(got.at, "%w", gotWant(c.describe(got), c.wanted(at, form), hint))
}

func (c *call) wanted(at int, form string) string {
	for i := at; i < len(c.params); i++ {
		if len(c.given[i]) == 0 {
			return c.params[i].describe() + ", as in " + form
		}
	}
	return "what fits " + form
}

func (c *call) describe(a argument) string {
	text := view{digits: -1}.text(a.val)
	if a.val.kind == units.KindNumber {
		return text + " with no unit"
	}
	return kindWord(a.val.kind) + ", " + text
}

// unitHint suggests how to write a bare number that was given for a quantity.
func (c *call) unitHint(a argument, written string) string {
	for i, p := range c.params {
		if p.kind == kindString && len(c.given[i]) == 0 {
			n := view{digits: -1}.text(a.val)
			return "write " + n + "p if it is plain, " + n + "w if it is wound"
		}
		s := unitsOf[p.kind]
		if len(c.given[i]) > 0 || len(s) == 0 {
			continue
		}
		if p.kind == units.KindThread {
			// 4-40 was read as a difference.
			var e *units.ParseError
			if _, err := units.ParseThread(written); errors.As(err, &e) && e.Hint != "" {
				return e.Hint
			}
		}
		return "write " + view{digits: -1}.text(a.val) + s[0]
	}
	return ""
}

// has reports whether parameter i was given.
func (c *call) has(i int) bool { return len(c.given[i]) > 0 }

// x is the value given for parameter i, in its base unit.
func (c *call) x(i int) float64 { return c.given[i][0].val.x }
