package repl

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// telling is one line that tells, being read. What is told goes into a copy of
// the record, so that a line with a fault leaves nothing behind.
type telling struct {
	session *Session
	state
	word  *word
	line  string
	how   []piece // of the head, behind the field's own words
	body  string  // behind the colon, to the comment
	at    int     // where the body begins
	shown string  // the values, as understood
}

// tell reads a line that tells, whose head ends at colon.
//
//	Tell = Bare | Taken | Done .
func (s *Session) tell(line string, colon int) (*telling, error) {
	head := pieces(line[:colon], 0)
	t := &telling{session: s, state: s.state, line: line}
	for n := min(2, len(head)); n > 0 && t.word == nil; n-- {
		t.word = s.words.get(headName(head[:n]), classField)
		t.how = head[n:]
	}
	if t.word == nil {
		return nil, s.unknownField(line, head)
	}
	t.at = colon + 1 + blanks(line[colon+1:])
	t.body = strings.TrimRight(line[t.at:], " \t")
	if t.body == "" {
		return nil, syntax(line, t.at, "a value, as in "+t.word.example, "")
	}
	if err := t.word.tell(t); err != nil {
		return nil, err
	}
	return t, faultAt(t.at, t.check())
}

// check checks what the line changed: an entry, or all that the others rest on.
func (t *telling) check() error {
	n := len(t.record.Entries)
	if n <= len(t.session.record.Entries) {
		return t.record.Check()
	}
	// The entries before it tell the number of strings, and nothing else of it: one
	// that says so stands for all of them, of which there may be very many.
	r, e := t.record, t.record.Entries[n-1]
	r.Entries = []bench.Entry{e}
	if count := t.session.count(); count > 0 {
		r.Entries = append(r.Entries, bench.Entry{Mood: bench.Read, Of: bench.Cents, How: bench.How{At: 1}, On: []int{count}, Cents: []units.Cents{0}})
	}
	return r.CheckEntry(e)
}

// count is the number of strings of the record, as Record.Count has it; entries are
// looked at once.
func (s *Session) count() int {
	n := len(s.record.Entries)
	if s.counted > n {
		s.counted, s.strings = 0, 0 // some were taken back
	}
	rest := s.record
	rest.Entries = rest.Entries[s.counted:]
	told := rest.Count()
	if len(rest.Strings)+len(rest.Tuning)+len(rest.Saddles) > 0 {
		return told
	}
	s.counted, s.strings = n, max(s.strings, told)
	return s.strings
}

func headName(head []piece) string {
	words := make([]string, len(head))
	for i, p := range head {
		words[i] = p.text
	}
	return strings.Join(words, " ")
}

// unknownField says what the head of a line may have meant.
func (s *Session) unknownField(line string, head []piece) error {
	n := 1
	if len(head) > 1 && !startsHow(head[1].text) {
		n = 2
	}
	name := headName(head[:n])
	near := s.words.near(name, classField)
	if near == "" && n == 2 {
		if near = s.words.near(head[0].text, classField); near != "" {
			near += " " + head[1].text
		}
	}
	return &fault{head[0].at, true, gotWant("the unknown field "+units.Quote(name), "one that help field lists", didYouMean(near))}
}

func didYouMean(near string) string {
	if near == "" {
		return ""
	}
	return "did you mean " + near + "?"
}

func startsHow(s string) bool {
	_, ref := refNumber(s)
	return ref || isDigit(s[0]) || s == "at" || s == "held" || s == "open" || s == "from" || s == "straightedge" || s == "on"
}

// noHow refuses anything between the field's words and the colon.
func (t *telling) noHow() error {
	if len(t.how) == 0 {
		return nil
	}
	return syntax(t.line, t.how[0].at, "a colon, as in "+t.word.example, "")
}

// text reads the body as a text, in quotes or bare.
//
//	text = first { most } .
//	first = "!" | "$" … "~" | "\u00a0" … "\U0010ffff" .
//	most = "\t" | " " … "\"" | "$" … "~" | "\u00a0" … "\U0010ffff" .
func (t *telling) text() (string, error) {
	if t.body[0] != '"' {
		return t.body, nil
	}
	text, n, err := quoted(t.line, t.at)
	if err == nil && n != len(t.body) {
		err = syntax(t.line, t.at+n, "nothing more", `a quote inside a text is written ""`)
	}
	return text, err
}

// quoted reads a text in quotes at byte at of a line, and its length.
//
//	quoted = "\"" { "\"\"" | inside } "\"" .
//	inside = "\t" | " " | "!" | "#" … "~" | "\u00a0" … "\U0010ffff" .
func quoted(line string, at int) (text string, n int, err error) {
	var b strings.Builder
	for i := at + 1; i < len(line); i++ {
		if line[i] != '"' {
			b.WriteByte(line[i])
			continue
		}
		if i+1 == len(line) || line[i+1] != '"' {
			return b.String(), i + 1 - at, nil
		}
		b.WriteByte('"')
		i++
	}
	return "", 0, syntax(line, at, "a text with its closing quote", "")
}

// whole reads the body as a whole number from least to most.
func (t *telling) whole(least, most int) (int, error) {
	if !isDigits(t.body) {
		return 0, syntax(t.line, t.at, "a whole number", "")
	}
	n := wholeNumber(t.body)
	if n < least || n > most {
		return 0, faultf(t.at, "got %s, want a whole number from %d to %d", units.Quote(t.body), least, most)
	}
	t.shown = fmt.Sprint(n)
	return n, nil
}

// length reads the body as one length, mixed fractions allowed.
func (t *telling) length() (units.Length, error) { return t.lengthAt(0) }

// lengthAt reads what stands from a byte of the body on as one length.
//
//	length = [ sign ] ( number | mixed | ratio ) ( [ blanks ] lunit | blanks "64ths" | "\"" ) .
func (t *telling) lengthAt(from int) (units.Length, error) {
	l, err := units.ParseLength(t.body[from:])
	if err != nil {
		return 0, faultAt(t.at+from, err)
	}
	t.shown = t.body[:from] + t.view.told(l)
	return l, nil
}

// positive reads the body as one length of more than 0.
func (t *telling) positive() (units.Length, error) {
	l, err := t.length()
	if err == nil && !(l > 0) {
		err = faultf(t.at, "got %v, want more than 0", l)
	}
	return l, err
}

// thread reads the body as a screw thread.
func (t *telling) thread() (units.Thread, error) {
	th, err := threadAt(t.body, t.at)
	t.shown = th.String() + " a turn"
	return th, err
}

// item is one value of a list: a number with its unit, if it has one, or a lone
// dot for one not read.
type item struct {
	piece
	x    float64
	unit units.Unit
	dot  bool
}

// number is the item's number as typed, or the sum of several, ready for its
// unit to follow.
func (it item) number() string {
	s := strings.TrimSuffix(it.text, it.unit.Symbol)
	if !isNumber(strings.TrimLeft(s, "+-")) || strings.Contains(s, "/") {
		s = strconv.FormatFloat(it.x, 'g', 12, 64)
	}
	if it.unit.Symbol != "" && isDigit(it.unit.Symbol[0]) {
		s += " "
	}
	return s
}

// items reads a list of values parted by blanks.
//
//	size = [ sign ] ( number | ratio ) ( [ blanks ] lunit | blanks "64ths" | "\"" ) .
func (t *telling) items() ([]item, error) {
	list := pieces(t.body, t.at)
	out := make([]item, 0, len(list))
	for _, p := range list {
		if u, ok := unitNamed(p.text); ok {
			// A unit that stands alone belongs to the value before it.
			if len(out) == 0 || out[len(out)-1].unit.Symbol != "" {
				return nil, syntax(t.line, p.at, "a value before the unit", "")
			}
			out[len(out)-1].unit = u
			continue
		}
		if err := noCommas(t.line, p); err != nil {
			return nil, err
		}
		if p.text == "." {
			out = append(out, item{piece: p, dot: true})
			continue
		}
		x, u, err := t.amount(p)
		if err != nil {
			return nil, err
		}
		if len(out) > 0 && isDigits(out[len(out)-1].text) && out[len(out)-1].unit.Symbol == "" && strings.Contains(p.text, "/") {
			whole := out[len(out)-1]
			return nil, &fault{whole.at, true, gotWant(units.Quote(whole.text+" "+p.text), "no mixed fraction in a list",
				"write "+strconv.FormatFloat(whole.x+x, 'g', 8, 64)+u.Symbol)}
		}
		out = append(out, item{piece: p, x: x, unit: u})
	}
	return out, nil
}

// amount reads one value of a list: a number, or the sum of a few leaves in the
// hand.
//
//	leaves = sign number | number { "+" number } .
//	sign = "+" | "-" .
func (t *telling) amount(p piece) (x float64, unit units.Unit, err error) {
	s, sign := p.text, 1.0
	if s[0] == '+' || s[0] == '-' {
		if s[0] == '-' {
			sign = -1
		}
		s = s[1:]
	}
	for {
		at := p.at + len(p.text) - len(s)
		v, u, n, err := units.Scan(s)
		if err != nil {
			return 0, unit, faultAt(at, err)
		}
		if d := wordLen("x" + strings.TrimPrefix(s[n:], "/")); strings.HasPrefix(s[n:], "/") && d > 1 && isDigits(s[n+1:n+d]) {
			den, _, _, _ := units.Scan(s[n+1 : n+d])
			if den == 0 {
				return 0, unit, syntax(t.line, at+n+1, "a denominator above 0", "")
			}
			v, n = v/den, n+d
		}
		if unit.Symbol != "" && u.Symbol != unit.Symbol {
			return 0, unit, syntax(t.line, at, "one unit for the leaves that are added", "")
		}
		x, unit, s = x+v, u, s[n:]
		if s == "" {
			return sign * x, unit, nil
		}
		if s[0] != '+' || p.text[0] == '+' || p.text[0] == '-' {
			return 0, unit, syntax(t.line, at+n, "a unit, or a blank before the next value", units.CommaHint(p.text))
		}
		s = s[1:]
	}
}

// noCommas refuses a comma between values.
func noCommas(line string, p piece) error {
	i := strings.IndexByte(p.text, ',')
	if i < 0 {
		return nil
	}
	return syntax(line, p.at+i, "a blank between values", units.CommaHint(p.text))
}

// spread applies the rule of lists: every value has its unit, or only the last
// has it for all. A dot may stand last, before the unit.
func (t *telling) spread(list []item, k units.Kind) error {
	with := 0
	for _, it := range list {
		if it.unit.Symbol != "" {
			with++
		}
	}
	last := &list[len(list)-1]
	if with == 1 && last.unit.Symbol != "" {
		for i := range list {
			list[i].unit = last.unit
		}
	}
	for _, it := range list {
		switch {
		case it.dot:
		case it.unit.Symbol == "" && with > 0:
			return syntax(t.line, it.at, "a unit on every value, or on the last alone for all", "")
		case it.unit.Symbol == "":
			return &fault{last.at + len(last.text), true, gotWant(units.Quote(last.text), kindWord(k)+" with its unit", "such as "+last.text+unitsOf[k][0])}
		case it.unit.Kind != k:
			return &fault{it.at, true, gotWant(kindWord(it.unit.Kind)+" "+units.Quote(it.text), kindWord(k), "")}
		}
	}
	return nil
}

// lengths reads the body as a list of lengths, NaN for a dot.
//
//	Lengths = { "." } ( size { "." | size } | { leaves | "." } leaves { "." } [ blanks ] lunit
//	          | { ratio | "." } ratio { "." } [ blanks ] lunit ) .
func (t *telling) lengths() ([]units.Length, error) {
	list, err := t.items()
	if err != nil {
		return nil, err
	}
	if err := t.spread(list, units.KindLength); err != nil {
		return nil, err
	}
	return gather[units.Length](t, list)
}

// cents reads the body as a list of cents, their unit left out or not.
//
//	Cents = ( reading | "." ) { reading | "." } .
//	reading = [ sign ] number [ [ blanks ] cunit ] .
func (t *telling) cents() ([]units.Cents, error) {
	list, err := t.items()
	if err != nil {
		return nil, err
	}
	for _, it := range list {
		if it.unit.Symbol != "" && it.unit.Kind != units.KindCents {
			return nil, &fault{it.at, true, gotWant(kindWord(it.unit.Kind)+" "+units.Quote(it.text), "a number of cents", "")}
		}
	}
	for i := range list {
		list[i].unit = cent
	}
	return gather[units.Cents](t, list)
}

var cent = forms["c"].unit

// gather converts items to their base unit.
func gather[T ~float64](t *telling, list []item) ([]T, error) {
	out := make([]T, len(list))
	shown := make([]string, len(list))
	for i, it := range list {
		if it.dot {
			out[i], shown[i] = T(nan), "."
			continue
		}
		x, err := it.unit.Base(it.x)
		if err != nil {
			return nil, faultf(it.at, "%w", bare(err))
		}
		out[i], shown[i] = T(x), it.number()+it.unit.Symbol
		if it.unit.Kind == units.KindCents && x > 0 && shown[i][0] != '+' {
			shown[i] = "+" + shown[i]
		}
	}
	t.shown = strings.Join(shown, " ")
	return out, nil
}

// allPositive refuses a length that is not more than 0, or was left out.
func (t *telling) allPositive(ls []units.Length) error {
	list, _ := t.items()
	for i, l := range ls {
		if !(l > 0) {
			return faultf(list[i].at, "got %s, want more than 0", units.Quote(list[i].text))
		}
	}
	return nil
}

// notNegative refuses a length below 0; one may be left out.
func (t *telling) notNegative(ls []units.Length, err error) ([]units.Length, error) {
	list, _ := t.items()
	for i, l := range ls {
		if l < 0 {
			return nil, faultf(list[i].at, "got %s, want at least 0", units.Quote(list[i].text))
		}
	}
	return ls, err
}

// joined parts the body at blanks, a unit that stands alone joined to what
// stands before it.
func (t *telling) joined() []piece { return joinUnits(pieces(t.body, t.at)) }

func joinUnits(list []piece) []piece {
	var out []piece
	for _, p := range list {
		if _, ok := unitNamed(p.text); ok && len(out) > 0 {
			out[len(out)-1].text += p.text
			continue
		}
		out = append(out, p)
	}
	return out
}

// gauges reads the body as a set of strings.
//
//	gauge = number [ blanks ] ( "p" | "w" )
//	      | "plain(" [ blanks ] length [ blanks ] ")"
//	      | "nylon(" [ blanks ] length [ blanks ] ")"
//	      | "fluorocarbon(" [ blanks ] length [ blanks ] ")"
//	      | "wound(" [ blanks ] length [ blanks ] "," [ blanks ] length [ blanks ] ")" .
func (t *telling) gauges() ([]tension.String, error) {
	var out []tension.String
	var shown []string
	for _, p := range t.joined() {
		if err := noCommas(t.line, p); err != nil && !strings.HasSuffix(p.text, ")") {
			return nil, err
		}
		s, err := tension.ParseString(p.text)
		if err != nil {
			if _, _, n, serr := units.Scan(p.text); serr == nil && n == len(p.text) && isNumber(p.text) {
				return nil, &fault{p.at, true, gotWant(units.Quote(p.text), "the string's kind", "write "+p.text+"p if it is plain, "+p.text+"w if it is wound")}
			}
			return nil, faultAt(p.at, err)
		}
		out, shown = append(out, s), append(shown, t.view.string(s))
	}
	t.shown = strings.Join(shown, " ")
	return out, nil
}

func isNumber(s string) bool {
	_, u, n, err := units.Scan(s)
	return err == nil && n == len(s) && u.Kind == units.KindNumber
}

// tones reads the body as what every string is tuned to.
//
//	tone = note [ sign number [ blanks ] "c" ] | hertz .
func (t *telling) tones() ([]bench.Tone, error) {
	var out []bench.Tone
	var shown []string
	for _, p := range t.joined() {
		if err := noCommas(t.line, p); err != nil {
			return nil, err
		}
		var tone bench.Tone
		var err error
		if isDigit(p.text[0]) || p.text[0] == '.' {
			tone.Hertz, err = units.ParseFrequency(p.text)
			if err == nil && !(tone.Hertz > 0) {
				err = fmt.Errorf("got %v, want a frequency of more than 0", tone.Hertz)
			}
		} else {
			tone.Pitch, err = units.ParsePitch(p.text)
		}
		if err != nil {
			return nil, faultAt(p.at, err)
		}
		out, shown = append(out, tone), append(shown, tone.String())
	}
	t.shown = strings.Join(shown, " ")
	return out, nil
}

// groups reads the body as the strings on each saddle.
func (t *telling) groups() ([][]int, error) {
	var out [][]int
	for _, p := range pieces(t.body, t.at) {
		if err := noCommas(t.line, p); err != nil {
			return nil, err
		}
		g, err := group(t.line, p)
		if err != nil {
			return nil, err
		}
		out = append(out, g)
	}
	t.shown = t.body
	return out, nil
}

// group reads the strings on a saddle.
//
//	group = whole { "+" whole } .
func group(line string, p piece) ([]int, error) {
	var out []int
	at := p.at
	for _, part := range strings.Split(p.text, "+") {
		if !isDigits(part) {
			return nil, syntax(line, at, "the numbers of the strings on a saddle, as in 1+2", "")
		}
		n := wholeNumber(part)
		if n < 1 || n > bench.MostStrings {
			return nil, faultf(at, "got string %s, want 1 to %d", part, bench.MostStrings)
		}
		out = append(out, n)
		at += len(part) + 1
	}
	return out, nil
}
