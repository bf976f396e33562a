package repl

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

const (
	usualWidth = 80 // where the session knows no other, and the most that words run to
	leastWidth = 40
)

// width is how wide answers in words may run.
func (s *Session) width() int { return widthOf(s.Width) }

func widthOf(told int) int {
	if told == 0 {
		return usualWidth
	}
	return max(leastWidth, told)
}

// foldAll folds lines of words to width, or to 80 where that is less: longer
// lines are hard to read.
func foldAll(lines []string, width int) []string {
	var out []string
	for _, line := range lines {
		out = append(out, fold(line, min(width, usualWidth))...)
	}
	return out
}

// fold parts a line of words at blanks so that it keeps within width, what is
// carried over set in by two more than the line was.
func fold(line string, width int) []string {
	var out []string
	lead, hang := "", strings.Repeat(" ", blanks(line)+2)
	for room := width; room > 0 && byteAt(line, room) < len(line); room = width - len(hang) {
		cut := strings.LastIndexByte(line[:byteAt(line, room+1)], ' ')
		if len(lead)+cut <= len(hang) {
			break
		}
		out = append(out, lead+strings.TrimRight(line[:cut], " "))
		lead, line = hang, strings.TrimLeft(line[cut:], " ")
	}
	return append(out, lead+line)
}

// byteAt is where character n of s begins.
func byteAt(s string, n int) int {
	for i := range s {
		if n == 0 {
			return i
		}
		n--
	}
	return len(s)
}

// column is a column of a table, its head first.
type column struct {
	cells []string
	wide  int
	words bool // flush left; numbers are flush right
}

// table lays rows out in columns, two blanks apart, or one where they fit width
// only so. What does not fit then goes into further tables below, which begin
// with the first column again, or with a number where that is wide.
func table(rows [][]cell, width int) []string {
	all := columns(rows)
	if len(all) == 0 {
		return nil // the rows are for JSON alone
	}
	for gap := 2; gap > 0; gap-- {
		if span(all, gap) <= width || len(all) == 1 {
			return layOut(all, gap)
		}
	}
	first, rest := all[:1], all[1:]
	if first[0].wide > width/2 {
		first, rest = []column{numbers(len(rows))}, all
	}
	var out []string
	for len(rest) > 0 {
		n := inSight(first[0], rest, width)
		if out != nil {
			out = append(out, "")
		}
		out = append(out, layOut(slices.Concat(first, rest[:n]), 2)...)
		rest = rest[n:]
	}
	return out
}

// columns are those cells of the rows that have a head.
func columns(rows [][]cell) []column {
	var out []column
	for n, row := range rows {
		i := 0
		for _, c := range row {
			if c.head == "" {
				continue
			}
			if n == 0 {
				out = append(out, column{cells: []string{c.head}, wide: utf8.RuneCountInString(c.head)})
			}
			col := &out[i]
			col.cells = append(col.cells, c.text)
			col.wide = max(col.wide, utf8.RuneCountInString(c.text))
			col.words = col.words || !numeric(c.text)
			i++
		}
	}
	return out
}

// numbers is a column of the numbers of n rows.
func numbers(n int) column {
	c := column{cells: []string{""}}
	for i := 1; i <= n; i++ {
		c.cells = append(c.cells, strconv.Itoa(i))
	}
	c.wide = len(c.cells[n])
	return c
}

// span is how wide columns are together.
func span(cols []column, gap int) int {
	n := -gap
	for _, c := range cols {
		n += gap + c.wide
	}
	return n
}

// inSight is how many of the columns that follow the first keep within width
// beside it, one at least. One that shows the same in another unit is not parted
// from its own.
func inSight(first column, cols []column, width int) int {
	most, wide := 0, first.wide
	for i, c := range cols {
		wide += 2 + c.wide
		if wide > width {
			break
		}
		if i+1 == len(cols) || cols[i+1].cells[0] != other {
			most = i + 1
		}
	}
	return max(1, most)
}

// other heads a column that shows the one before it in another unit.
const other = "and"

func layOut(cols []column, gap int) []string {
	out := make([]string, len(cols[0].cells))
	for n := range out {
		var b strings.Builder
		for i, c := range cols {
			if i > 0 {
				b.WriteString(strings.Repeat(" ", gap))
			}
			pad := strings.Repeat(" ", c.wide-utf8.RuneCountInString(c.cells[n]))
			if c.words {
				b.WriteString(c.cells[n] + pad)
			} else {
				b.WriteString(pad + c.cells[n])
			}
		}
		out[n] = strings.TrimRight(b.String(), " ")
	}
	return out
}

// numeric reports whether a cell reads as one number, with a unit or without, or
// as one not known.
func numeric(s string) bool {
	if s == "-" {
		return true
	}
	s = strings.TrimLeft(s, "+-")
	if whole, part, ok := strings.Cut(s, " "); ok && isDigits(whole) && strings.Contains(part, "/") {
		return true // turns in eighths
	}
	return s != "" && (isDigit(s[0]) || s[0] == '.') && !strings.ContainsAny(s, " +")
}
