package repl

import (
	"strings"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// The grammar of asking, as in grammar.ebnf, stands piece by piece above the
// functions that parse it. A parser makes nodes and evaluates nothing.

// mostDepth is how deep brackets, signs and powers may nest.
const mostDepth = 100

// mostOperands is how many values a line may work with: each takes a few KiB.
const mostOperands = 1000

// op says what a node is.
type op uint8

const (
	opValue op = iota
	opName
	opCall
	opMinus // of one operand
	opAdd
	opSub
	opMul
	opDiv
	opPow
)

var opSigns = map[op]string{opMinus: "-", opAdd: "+", opSub: "-", opMul: "*", opDiv: "/", opPow: "^"}

// node is a piece of an expression.
type node struct {
	op   op
	at   int // byte of the line
	end  int
	val  value  // of opValue
	word string // of opName and opCall
	kids []*node
}

// parser reads one line from pos on.
type parser struct {
	line     string
	pos      int
	depth    int
	operands int
	words    *vocabulary
}

const (
	wantOperand  = "a value: a number, a note, a name, a function or a bracket"
	wantOperator = "an operator or the end of the line"
)

// skip passes blanks.
func (p *parser) skip() { p.pos += blanks(p.line[p.pos:]) }

// peek returns the next byte after blanks, 0 at the end.
func (p *parser) peek() byte {
	p.skip()
	if p.pos == len(p.line) {
		return 0
	}
	return p.line[p.pos]
}

func (p *parser) wrong(want string) error {
	hint := ""
	if p.peek() == ',' {
		hint = units.CommaHint(p.line)
	}
	return syntax(p.line, p.pos, want, hint)
}

// deeper guards against nesting that would exhaust the stack.
func (p *parser) deeper() error {
	p.depth++
	if p.depth > mostDepth {
		return &fault{p.pos, true, gotWant("more than 100 brackets or signs in one another", "fewer", "")}
	}
	return nil
}

// sum reads what is added.
//
//	Sum = Product { ( "+" | "-" ) Product } .
func (p *parser) sum() (*node, error) {
	return p.chain(p.product, map[byte]op{'+': opAdd, '-': opSub})
}

// product reads what is multiplied.
//
//	Product = Signed { ( "*" | "/" ) Signed } .
func (p *parser) product() (*node, error) {
	return p.chain(p.signed, map[byte]op{'*': opMul, '/': opDiv})
}

// chain reads operands joined by operators of one rank, from the left.
func (p *parser) chain(operand func() (*node, error), ops map[byte]op) (*node, error) {
	left, err := operand()
	for err == nil {
		o, ok := ops[p.peek()]
		if !ok {
			return left, nil
		}
		at := p.pos
		p.pos++
		var right *node
		if right, err = operand(); err == nil {
			left = &node{op: o, at: at, end: p.pos, kids: []*node{left, right}}
		}
	}
	return nil, err
}

// signed reads a power and the signs before it.
//
//	Signed = ( "+" | "-" ) Signed | Power .
func (p *parser) signed() (*node, error) {
	sign := p.peek()
	if sign != '+' && sign != '-' {
		return p.power()
	}
	if err := p.deeper(); err != nil {
		return nil, err
	}
	defer func() { p.depth-- }()
	at := p.pos
	p.pos++
	n, err := p.signed()
	if err != nil || sign == '+' {
		return n, err
	}
	return &node{op: opMinus, at: at, end: p.pos, kids: []*node{n}}, nil
}

// power reads an operand, and its exponent if it has one.
//
//	Power = Operand [ "^" Signed ] .
func (p *parser) power() (*node, error) {
	base, err := p.operand()
	if err != nil || p.peek() != '^' {
		return base, err
	}
	if err := p.deeper(); err != nil {
		return nil, err
	}
	defer func() { p.depth-- }()
	at := p.pos
	p.pos++
	exponent, err := p.signed()
	if err != nil {
		return nil, err
	}
	return &node{op: opPow, at: at, end: p.pos, kids: []*node{base, exponent}}, nil
}

// operand reads what operators join.
//
//	Operand = quantity | note | metric | ref | Call | name | "(" Sum ")" .
func (p *parser) operand() (*node, error) {
	if p.operands++; p.operands > mostOperands {
		return nil, &fault{p.pos, true, gotWant("more than 1000 values in a line", "fewer", "")}
	}
	switch c := p.peek(); {
	case c == '(':
		return p.bracket()
	case isDigit(c) || c == '.':
		return p.quantity()
	case 'A' <= c && c <= 'G':
		return p.note()
	case c == 'M' && p.pos+1 < len(p.line) && isDigit(p.line[p.pos+1]):
		return p.metric()
	case isLetter(c):
		return p.word()
	}
	return nil, p.wrong(wantOperand)
}

func (p *parser) bracket() (*node, error) {
	if err := p.deeper(); err != nil {
		return nil, err
	}
	defer func() { p.depth-- }()
	p.pos++
	n, err := p.sum()
	if err != nil {
		return nil, err
	}
	if p.peek() != ')' {
		return nil, p.wrong("an operator or a closing bracket")
	}
	p.pos++
	return n, nil
}

// quantity reads a number and its unit.
//
//	quantity = number | mixed | ( number | mixed | ratio ) ( [ blanks ] unit | blanks "64ths" | "\"" ) .
//	mixed = whole blanks fraction .
//	fraction = whole "/" denominator .
//	ratio = number "/" denominator .
//	number = ( whole [ "." whole ] | "." whole ) [ "e" [ sign ] digit [ digit ] ] .
//	denominator = "1" … "9" [ whole ] .
func (p *parser) quantity() (*node, error) {
	at := p.pos
	x, u, n, err := units.Scan(p.line[at:])
	if err != nil {
		return nil, faultAt(at, err)
	}
	p.pos += n
	if u.Kind == units.KindNumber {
		if err := p.noUnit(at); err != nil {
			return nil, err
		}
	}
	v, err := quantityOf(x, u)
	if err != nil {
		return nil, faultf(at, "%w", bare(err))
	}
	return &node{op: opValue, at: at, end: p.pos, val: v}, nil
}

// bare drops the place that an error of units speaks of.
func bare(err error) error {
	if e, ok := err.(*units.ParseError); ok {
		return gotWant(e.Got, e.Want, e.Hint)
	}
	return err
}

// noUnit refuses a word behind a number that has no unit.
func (p *parser) noUnit(at int) error {
	from := p.pos + blanks(p.line[p.pos:])
	n := wordLen(p.line[from:])
	if n == 0 {
		return nil
	}
	word := p.line[from : from+n]
	hint := ""
	if word[0] == 'E' && isDigits(word[1:]) && from == p.pos {
		hint = "an exponent is a small e: write " + p.line[at:from] + "e" + word[1:]
	} else if near := p.words.near(word, classUnit); near != "" {
		hint = "did you mean " + near + "?"
	}
	return syntax(p.line, from, "a unit, an operator or the end of the line", hint)
}

func isDigits(s string) bool {
	for i := 0; i < len(s); i++ {
		if !isDigit(s[i]) {
			return false
		}
	}
	return s != ""
}

// quantityOf is the value of x of a unit; a gauge is a string.
func quantityOf(x float64, u units.Unit) (value, error) {
	if u.Kind == units.KindNumber {
		return value{x: x}, nil
	}
	base, err := u.Base(x)
	if err != nil {
		return value{}, err
	}
	if u.Kind == units.KindPlainGauge || u.Kind == units.KindWoundGauge {
		s, err := tension.ByUnit(units.Length(base), u.Kind)
		return value{kind: kindString, string: s}, err
	}
	return value{kind: u.Kind, x: base}, nil
}

// note reads the name of a note.
//
//	note = notename [ "#" | "b" | "♯" | "♭" ] [ "-" ] digit [ digit ] .
//	notename = "A" … "G" .
func (p *parser) note() (*node, error) {
	at := p.pos
	n := noteLen(p.line[at:])
	note, err := units.ParseNote(p.line[at : at+n])
	if err != nil {
		return nil, faultAt(at, err)
	}
	p.pos += n
	return &node{op: opValue, at: at, end: p.pos, val: value{kind: kindPitch, pitch: units.Pitch{Note: note}}}, nil
}

// noteLen is how much of s, which begins with a letter, ParseNote is to judge.
func noteLen(s string) int {
	n := 1
	for _, sign := range []string{"#", "♯", "♭"} {
		if len(s) >= n+len(sign) && s[n:n+len(sign)] == sign {
			n += len(sign)
			break
		}
	}
	if n < len(s) && s[n] == 'b' {
		n++
	}
	if n+1 < len(s) && s[n] == '-' && isDigit(s[n+1]) {
		n++
	}
	for n < len(s) && wordByte(s[n]) {
		n++
	}
	return n
}

// metric reads a coarse metric thread.
//
//	metric = "M" whole [ "." whole ] .
func (p *parser) metric() (*node, error) {
	at, end := p.pos, p.pos+1
	for end < len(p.line) && (wordByte(p.line[end]) || p.line[end] == '.') {
		end++
	}
	t, err := threadAt(p.line[at:end], at)
	if err != nil {
		return nil, err
	}
	p.pos = end
	return &node{op: opValue, at: at, end: end, val: value{kind: units.KindThread, x: float64(t)}}, nil
}

// threadAt reads the thread s, which stands at byte at of its line.
//
//	thread = metric | number ( [ blanks ] ( "tpi" | lunit ) | "\"" ) .
func threadAt(s string, at int) (units.Thread, error) {
	t, err := units.ParseThread(s)
	_, u, n, serr := units.Scan(strings.TrimPrefix(s, "M"))
	if err != nil && serr == nil && n == len(strings.TrimPrefix(s, "M")) && (s[0] == 'M') == (u.Kind == units.KindNumber) {
		return 0, faultf(at, "%w", bare(err)) // well written, but there is none such
	}
	return t, faultAt(at, err)
}

// word reads what begins with a letter: a call, a string of the record, or a
// name.
func (p *parser) word() (*node, error) {
	at := p.pos
	n := wordLen(p.line[at:])
	word := p.line[at : at+n]
	p.pos += n
	if p.peek() == '(' {
		return p.call(word, at)
	}
	p.pos = at + n
	if number, ok := refNumber(word); ok {
		return &node{op: opValue, at: at, end: p.pos, val: value{kind: kindRef, x: float64(number)}}, nil
	}
	return &node{op: opName, at: at, end: p.pos, word: word}, nil
}

// refNumber is the number of a string of the record's.
//
//	ref = "s" digit [ digit [ digit ] ] .
func refNumber(word string) (int, bool) {
	if len(word) < 2 || len(word) > 4 || word[0] != 's' || !isDigits(word[1:]) {
		return 0, false
	}
	return wholeNumber(word[1:]), true
}

// call reads the arguments of a function.
//
//	Call = function "(" [ Sum { "," Sum } ] ")" .
func (p *parser) call(word string, at int) (*node, error) {
	if err := p.deeper(); err != nil {
		return nil, err
	}
	defer func() { p.depth-- }()
	if p.words.get(word, classFunction) == nil {
		return nil, p.words.unknown(p.line, at, word, "a function", classFunction)
	}
	n := &node{op: opCall, at: at, word: word}
	p.pos++
	for p.peek() != ')' {
		if len(n.kids) > 0 {
			if p.peek() != ',' {
				return nil, p.wrong("an operator, a comma or a closing bracket")
			}
			p.pos++
		}
		kid, err := p.sum()
		if err != nil {
			return nil, err
		}
		n.kids = append(n.kids, kid)
	}
	p.pos++
	n.end = p.pos
	return n, nil
}
