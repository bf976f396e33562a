package draw_test

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// dxf is an exchange file read by nothing but its rules: pairs of lines, the
// first a group code, the second a value.
type dxf struct {
	header map[string]map[int]string
	tables map[string]map[string]map[int]string // rows by table and name
	shapes []record
}

type record struct {
	kind   string
	values map[int]string
}

func (r record) at(t *testing.T, code int) fret.Point {
	t.Helper()
	for _, c := range []int{code, code + 10, code + 20} {
		if !strings.Contains(r.values[c], ".") {
			t.Errorf("%s, code %d: got %q, want a number with a point", r.kind, c, r.values[c])
		}
	}
	return fret.Point{X: parsed(t, r.values[code]), Y: parsed(t, r.values[code+10])}
}

// records parts the file at each 0, which starts a thing; no thing may have a code
// twice but a dash.
func records(t *testing.T, file []byte) []record {
	t.Helper()
	for _, c := range file {
		if c > '~' || c < ' ' && c != '\n' {
			t.Fatalf("got byte %#x, want printable ASCII", c)
		}
	}
	text, ends := strings.CutSuffix(string(file), "\n")
	lines := strings.Split(text, "\n")
	if !ends || len(lines)%2 != 0 {
		t.Fatalf("got %d lines, want pairs of them", len(lines))
	}
	out := []record{{kind: "start", values: map[int]string{}}}
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimLeft(lines[i], " "))
		if err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		last := out[len(out)-1]
		_, twice := last.values[code]
		switch {
		case code == 0 || code == 9:
			out = append(out, record{lines[i+1], map[int]string{}})
		case twice && code != 49:
			t.Fatalf("line %d: got code %d twice in %s, want it once", i+1, code, last.kind)
		default:
			last.values[code] += lines[i+1]
		}
	}
	return out
}

func readDXF(t *testing.T, file []byte) dxf {
	t.Helper()
	d := dxf{map[string]map[int]string{}, map[string]map[string]map[int]string{}, nil}
	section, table, rows, sections := "", "", 0, ""
	for _, r := range records(t, file) {
		switch {
		case r.kind == "start" || r.kind == "EOF":
			if section != "" {
				t.Fatalf("got %s in section %s, want it outside", r.kind, section)
			}
		case r.kind == "SECTION":
			section = r.values[2]
			sections += " " + section
		case r.kind == "ENDSEC":
			section = ""
		case section == "HEADER":
			d.header[r.kind] = r.values
		case section == "TABLES" && r.kind == "TABLE":
			table = r.values[2]
			d.tables[table] = map[string]map[int]string{}
			rows, _ = strconv.Atoi(r.values[70])
		case section == "TABLES" && r.kind == "ENDTAB":
			if got := len(d.tables[table]); got != rows {
				t.Errorf("table %s: got %d rows, want the %d it says", table, got, rows)
			}
		case section == "TABLES" && r.kind == table:
			d.tables[table][r.values[2]] = r.values
		case section == "ENTITIES":
			if d.tables["LAYER"][r.values[8]] == nil {
				t.Errorf("%s: got layer %q, want one of the table", r.kind, r.values[8])
			}
			d.shapes = append(d.shapes, r)
		default:
			t.Fatalf("got %s in section %q, want nothing there", r.kind, section)
		}
	}
	if want := " HEADER TABLES BLOCKS ENTITIES"; sections != want {
		t.Errorf("got sections%s, want%s", sections, want)
	}
	if want := "  0\nEOF\n"; !strings.HasSuffix(string(file), want) {
		t.Errorf("got a file without an end, want %q", want)
	}
	return d
}

func TestExchange(t *testing.T) {
	p := sample()
	p.Layers[3].Words = nil // and so no layer for them
	d := readDXF(t, written(t, p.Exchange))
	if got := d.header["$ACADVER"][1]; got != "AC1009" {
		t.Errorf("got version %s, want AC1009", got)
	}
	near(t, "lowest", record{"$EXTMIN", d.header["$EXTMIN"]}.at(t, 10), fret.Point{X: -40.125, Y: -85.5})
	near(t, "highest", record{"$EXTMAX", d.header["$EXTMAX"]}.at(t, 10), fret.Point{X: 704.875, Y: 85.75})
	names := slices.Sorted(maps.Keys(d.tables["LAYER"]))
	if got, want := fmt.Sprint(names), "[0 BOARD_EDGE BOARD_EDGE-WORDS CENTRE CENTRE-WORDS FRET_SLOTS FRET_SLOTS-WORDS S5]"; got != want {
		t.Errorf("got layers %s, want %s", got, want)
	}
	for name, want := range map[string]string{"0": "7 CONTINUOUS", "FRET_SLOTS": "8 CONTINUOUS", "BOARD_EDGE": "152 DASHED", "BOARD_EDGE-WORDS": "152 CONTINUOUS", "CENTRE": "30 DOT", "S5": "122 CENTER"} {
		row := d.tables["LAYER"][name]
		if got := row[62] + " " + row[6]; got != want {
			t.Errorf("layer %s: got %s, want %s", name, got, want)
		}
		if d.tables["LTYPE"][row[6]] == nil {
			t.Errorf("layer %s: got line type %s, want one of the table", name, row[6])
		}
	}
	if got, want := d.tables["LTYPE"]["CENTER"], "4 12.5 8.0-1.51.5-1.5"; got[73]+" "+got[40]+" "+got[49] != want {
		t.Errorf("got the dashes %v, want %s", got, want)
	}
	next := func(kind, layer string) record {
		t.Helper()
		if len(d.shapes) == 0 || d.shapes[0].kind != kind || d.shapes[0].values[8] != layer {
			t.Fatalf("got %v, want %s on %s", d.shapes[:min(1, len(d.shapes))], kind, layer)
		}
		r := d.shapes[0]
		d.shapes = d.shapes[1:]
		return r
	}
	for i, l := range p.Layers {
		code := []string{"FRET_SLOTS", "BOARD_EDGE", "CENTRE", "S5"}[i]
		for _, line := range l.Lines {
			if len(line.Points) == 2 {
				r := next("LINE", code)
				near(t, line.Name, r.at(t, 10), line.Points[0])
				near(t, line.Name, r.at(t, 11), line.Points[1])
				continue
			}
			r := next("POLYLINE", code)
			if got, want := r.values[66]+r.values[70], map[bool]string{false: "10", true: "11"}[line.Closed]; got != want {
				t.Errorf("%s: got flags %s, want %s", line.Name, got, want)
			}
			for _, at := range line.Points {
				near(t, line.Name, next("VERTEX", code).at(t, 10), at)
			}
			next("SEQEND", code)
		}
		for _, c := range l.Circles {
			r := next("CIRCLE", code)
			near(t, "circle", r.at(t, 10), c.Centre)
			near(t, "radius", fret.Point{X: parsed(t, r.values[40])}, fret.Point{X: c.Radius})
		}
		for j, word := range l.Words {
			r := next("TEXT", code+"-WORDS")
			at := 10
			if j%3 > 0 { // an anchor other than the start has a place of its own
				at = 11
			}
			near(t, word.Text, r.at(t, at), word.At)
			got := r.values[1] + " " + r.values[72] + " " + r.values[7]
			want := []string{"word (0)  STANDARD", "word (1) 1 STANDARD", "word (2) 2 STANDARD", "word (3)  STANDARD"}[j]
			if got != want {
				t.Errorf("got %q, want %q", got, want)
			}
			near(t, "height and angle", fret.Point{X: parsed(t, r.values[40]), Y: parsed(t, r.values[50])},
				fret.Point{X: []units.Length{2.1, 0.7, 1.4, 2.1}[j], Y: units.Length(35 * j)})
		}
	}
	if len(d.shapes) != 0 {
		t.Errorf("got %d things more, want none", len(d.shapes))
	}
}
