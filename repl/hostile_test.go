package repl_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand"
	"os"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// hostile are all functions of each package below this one, and a value of every
// type that has methods, sane as it stands. It stands here, since this package
// alone sees them all; a function that is missing fails TestHostile.
var hostile = map[string]struct{ functions, values []any }{
	"units": {
		[]any{units.CommaHint, units.Interval, units.Nearest, units.ParseAngle, units.ParseCents, units.ParseDensity, units.ParseForce,
			units.ParseFrequency, units.ParseLength, units.ParseLinearDensity, units.ParseNote, units.ParsePitch, units.ParseStress,
			units.ParseThread, units.ParseTurns, units.Quote, units.Scan, units.Slope, units.Table},
		[]any{units.Angle(1), units.Cents(1), units.Density(1), units.Force(1), units.Frequency(1), units.Kind(1), units.Length(1),
			units.LinearDensity(1), units.A4, units.Pitch{Note: 64, Off: 1}, units.Stress(1), units.Thread(1), units.Turns(1), units.Table()[0], &units.ParseError{}},
	},
	"units/leaves": {nil, []any{leaves.Set{0.1, 0.2, 0.3, 0.5, 1}, leaves.Stack{Leaves: []units.Length{1}}}},
	"fret": {
		[]any{fret.Camber, fret.Divide, fret.Equal, fret.EqualCentres, fret.EqualGaps, fret.Just, fret.Meantone, fret.NewBoard, fret.PerString,
			fret.RadiusFromCamber, fret.Ratios, fret.Repeat, fret.Share},
		[]any{sane.board, sane.division, fret.Line{Bass: fret.Point{Y: -50}}, fret.Ratio{Num: 3, Den: 2}, fret.Surface{Nut: 250, End: 300, Span: 480}},
	},
	"fret/draw": {
		[]any{draw.CheckBars, draw.Kerfs, draw.Neck},
		[]any{draw.Neck(sane.board), draw.Sheet{Width: 210, Height: 297, Margin: 10, Overlap: 10}},
	},
	"tension": {
		[]any{tension.Breaking, tension.ByUnit, tension.FitR, tension.Gauge, tension.Length, tension.ParseString, tension.Pitch, tension.Plain,
			tension.Pull, tension.Strength, tension.Total, tension.UnitWeight, tension.Wound, tension.WoundGauge},
		[]any{sane.plain, tension.Strung{String: sane.plain, Pitch: 329.6, Length: 648}},
	},
	"action": {
		[]any{action.AtSaddle, action.BowEnd, action.Centres, action.Deepen, action.Even, action.OneScrew, action.Sand, action.TwoScrews, action.Usual},
		[]any{sane.heights.Board, action.Curve{}, action.FallAway{From: 400, To: 480, By: 0.2}, action.SlotLow, action.Heel{Near: 390, Far: 465}, sane.heights,
			sane.heights.Relief, action.Swing{Depth: 1, Pluck: 100}, action.Way{Near: 1, At: 7, Far: 14}},
	},
	"intonation": {
		[]any{intonation.After, intonation.Band, intonation.Learn, intonation.Move, intonation.NewModel, intonation.RoughIn},
		[]any{intonation.Causes{}, sane.model, new(intonation.Placer), intonation.Saddle{Rests: []intonation.Rest{{String: 1}, {String: 2, Across: 10}}}, intonation.Stretch},
	},
	"repl/bench": {
		[]any{bench.Group, bench.Orders, bench.Rounded, bench.TotalPull},
		[]any{&bench.Missing{}, sane.record, bench.Want, bench.MoveRow{Move: 1, Band: 0.5, Strings: []int{1}}, bench.PullRow{}, bench.Relief, bench.Text{}, bench.Tone{Hertz: 440}},
	},
}

// sane are values that arguments are made from, beside those of hostile.
var sane = func() (out struct {
	division fret.Division
	plan     fret.Plan
	board    *fret.Board
	plain    tension.String
	heights  action.Neck
	neck     intonation.Neck
	model    *intonation.Model
	record   *bench.Record
}) {
	must := func(err error) {
		if err != nil {
			panic(err)
		}
	}
	var err error
	out.division, err = fret.Equal(units.Octave, 12, 22)
	must(err)
	across, err := fret.EqualCentres(36, 6)
	must(err)
	out.plan = fret.Plan{Division: out.division, Scale: 648, AtNut: across, AtScale: across, Margin: 3, Surface: fret.Surface{Nut: 250, End: 350}}
	out.board, err = fret.NewBoard(out.plan)
	must(err)
	out.plain, err = tension.Plain(0.254, tension.Steel)
	must(err)
	out.heights = action.Neck{Division: out.division, Relief: action.Relief{Bow: 0.2, Far: 350},
		Board: action.Board{Scale: 648, Strings: 6, NutSpread: 36, SaddleSpread: 52, Surface: fret.Surface{Nut: 250, End: 350, Span: 480}}}
	course := intonation.Course{UnitWeight: out.plain.UnitWeight, Stretch: out.plain.Stretch, Bend: out.plain.Bend, Open: 329.6, NutHeight: 1, Rise: 2, Setback: 1}
	out.neck = intonation.Neck{Division: out.division, Scale: 648, Courses: []intonation.Course{course, course}}
	out.model, err = intonation.NewModel(out.neck)
	must(err)
	file, err := os.Open("../examples/heron.record")
	must(err)
	defer file.Close()
	s := repl.New()
	must(s.Run(context.Background(), "heron", file, io.Discard, repl.Words))
	record := s.Record()
	out.record = &record
	return out
}()

// state is what fmt hands a Formatter.
type state struct{ io.Writer }

func (state) Width() (int, bool)     { return 12, true }
func (state) Precision() (int, bool) { return 3, true }
func (state) Flag(c int) bool        { return c == '+' }

// broken is a writer that is full.
type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("got a full disk, want room") }

// walker makes arguments out of sane values and of such as no one would mean.
type walker struct {
	*rand.Rand
	pool map[reflect.Type][]reflect.Value
	nan  bool // it gave a NaN
}

func newWalker() *walker {
	w := &walker{rand.New(rand.NewSource(1)), map[reflect.Type][]reflect.Value{}, false}
	add := func(x any) { w.pool[reflect.TypeOf(x)] = append(w.pool[reflect.TypeOf(x)], reflect.ValueOf(x)) }
	for _, p := range hostile {
		for _, x := range p.values {
			add(x)
		}
	}
	for _, x := range []any{sane.plan, sane.neck, tension.Steel, fret.Division{}, &fret.Board{}, *sane.record, sane.neck.Courses[0],
		bench.Entry{Mood: bench.Read, Of: bench.Cents, How: bench.How{At: 12}, Cents: make([]units.Cents, 6)},
		intonation.Reading{String: 1, High: 12, Cents: 5}, intonation.Heard{High: 12, Cents: 5, Doubt: 1}, intonation.Round{Cents: 1},
		intonation.Note{Reading: intonation.Reading{String: 1, High: 12, Cents: 5}}} {
		add(x)
	}
	w.pool[reflect.TypeFor[fmt.State]()] = []reflect.Value{reflect.ValueOf(state{io.Discard})}
	w.pool[reflect.TypeFor[io.Writer]()] = []reflect.Value{reflect.ValueOf(io.Discard), reflect.ValueOf(broken{})}
	return w
}

var (
	floats = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), -1, 5e-324, math.MaxFloat64, -math.MaxFloat64, 1e-300, 1e300, 0.25, 12, 648}
	ints   = []int64{math.MinInt64, math.MaxInt64, -1, 0, 1, 2, 6, 12, 100, 1 << 31}
	texts  = []string{"", "NaN", "-", "10p", "E4", "1e999mm", "\x00\xff", "25 1/2in", strings.Repeat("9", 100_000), strings.Repeat("(", 100_000), strings.Repeat("1/", 50_000)}
)

// value makes a value of a type; of a kind that has sane values, mostly one of
// those, with one field in three put wrong.
func (w *walker) value(t reflect.Type, depth int) reflect.Value {
	if known := w.pool[t]; len(known) > 0 && w.Intn(4) > 0 {
		v := reflect.New(t).Elem()
		v.Set(known[w.Intn(len(known))])
		if t.Kind() == reflect.Struct && w.Intn(4) > 0 {
			if f := w.Intn(t.NumField()); t.Field(f).IsExported() {
				v.Field(f).Set(w.value(t.Field(f).Type, depth+1))
			}
		}
		return v
	}
	v := reflect.New(t).Elem()
	switch t.Kind() {
	case reflect.Float64:
		x := floats[w.Intn(len(floats))]
		w.nan = w.nan || x != x
		v.SetFloat(x)
	case reflect.Int, reflect.Int64:
		v.SetInt(ints[w.Intn(len(ints))])
	case reflect.Uint8:
		v.SetUint(uint64([]int{0, 1, 2, 7, 255}[w.Intn(5)]))
	case reflect.Bool:
		v.SetBool(w.Intn(2) == 0)
	case reflect.String:
		v.SetString(texts[w.Intn(len(texts))])
	case reflect.Slice:
		n := []int{0, 1, 2, 6, 7}[w.Intn(5)]
		if depth > 5 {
			n = 0
		}
		for range n {
			v.Set(reflect.Append(v, w.value(t.Elem(), depth+1)))
		}
	case reflect.Array:
		for i := range t.Len() {
			v.Index(i).Set(w.value(t.Elem(), depth+1))
		}
	case reflect.Struct:
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				v.Field(i).Set(w.value(t.Field(i).Type, depth+1))
			}
		}
	case reflect.Pointer:
		v.Set(reflect.New(t.Elem()))
		v.Elem().Set(w.value(t.Elem(), depth+1))
	case reflect.Interface, reflect.Func: // writers, and what shows a length: there are sane ones
		if known := w.pool[t]; len(known) > 0 {
			v.Set(known[0])
		}
	}
	return v
}

// sound makes the kth of many values that a function may well take.
func (w *walker) sound(t reflect.Type, k int) reflect.Value {
	v := reflect.New(t).Elem()
	if known := w.pool[t]; len(known) > 0 && t.Kind() != reflect.Float64 {
		v.Set(known[0])
		return v
	}
	switch t.Kind() {
	case reflect.Float64:
		v.SetFloat(1 + float64(k)/1e6)
	case reflect.Int:
		v.SetInt(int64(1 + k%6))
	case reflect.Struct:
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				v.Field(i).Set(w.sound(t.Field(i).Type, k))
			}
		}
	}
	return v
}

// call calls a function, and checks what holds for all of them.
func (w *walker) call(t *testing.T, name string, f reflect.Value, args []reflect.Value) {
	defer func() {
		if r := recover(); r != nil {
			stack := make([]byte, 2000)
			t.Errorf("%s(%s): got a panic, %v\n%s", name, shorten(args), r, stack[:runtime.Stack(stack, false)])
		}
	}()
	var out []reflect.Value
	if f.Type().IsVariadic() {
		out = f.CallSlice(args)
	} else {
		out = f.Call(args)
	}
	for _, v := range out {
		err, ok := v.Interface().(error)
		if !ok || err == nil {
			continue
		}
		if text := err.Error(); strings.ContainsAny(text, "\n") || len(text) > 1000 && name != "Unit.Base" || // whose symbol is the caller's
			!strings.Contains(text, "got ") {
			t.Errorf("%s(%s): got error %.300q, want one line of what was got and what was wanted", name, shorten(args), text)
		}
	}
}

func shorten(args []reflect.Value) string {
	parts := make([]string, len(args))
	for i, a := range args {
		parts[i] = fmt.Sprintf("%.300s", fmt.Sprintf("%+v", a))
	}
	return strings.Join(parts, "; ")
}

// Every exported function and method over NaN, infinities, zeros, the smallest
// and the largest numbers, wrong texts, empty lists and such: an error of one
// line, or a value; no panic.
func TestHostile(t *testing.T) {
	api, err := os.ReadFile("../.ci/api.txt")
	if err != nil {
		t.Skip("the checkout's list of exported names is not here")
	}
	for path, p := range hostile {
		t.Run(path, func(t *testing.T) {
			w := newWalker()
			met := map[string]bool{}
			run := func(name string, times int, f func() reflect.Value) {
				met[name] = true
				for range times {
					fn := f()
					args := make([]reflect.Value, fn.Type().NumIn())
					for i := range args {
						args[i] = w.value(fn.Type().In(i), 0)
					}
					w.call(t, name, fn, args)
				}
			}
			for _, x := range p.functions {
				v := reflect.ValueOf(x)
				name := runtime.FuncForPC(v.Pointer()).Name()
				run(name[strings.LastIndex(name, ".")+1:], 300, func() reflect.Value { return v })
			}
			for _, x := range p.values {
				typ := reflect.TypeOf(x)
				name := strings.TrimPrefix(typ.String(), "*")
				name = name[strings.Index(name, ".")+1:]
				if typ.Kind() != reflect.Pointer {
					typ = reflect.PointerTo(typ) // which has the methods of both
				}
				for m := range typ.NumMethod() {
					run(name+"."+typ.Method(m).Name, 150, func() reflect.Value {
						return w.value(typ, 0).Method(m)
					})
				}
			}
			for _, line := range strings.Split(string(api), "\n") {
				fields := strings.SplitN(line, " ", 3)
				if len(fields) < 3 || fields[0] != "example.org/saddlepoint/"+path || !strings.HasPrefix(fields[2], "func") && !strings.HasPrefix(fields[2], "method") {
					continue
				}
				if name := strings.NewReplacer("(*", "", ")", "").Replace(fields[1]); !met[name] {
					t.Errorf("got no call of %s, want it in the list", name)
				}
			}
		})
	}
}

// Lists that no instrument has, of a hundred thousand sound values: a search that goes through
// pairs of them would not come to an end here.
func TestHuge(t *testing.T) {
	const n = 100_000
	for path, p := range hostile {
		t.Run(path, func(t *testing.T) {
			w := newWalker()
			one := func(name string, f reflect.Value) {
				typ := f.Type()
				if !slices.ContainsFunc(ins(typ), func(t reflect.Type) bool { return t.Kind() == reflect.Slice }) {
					return
				}
				args := make([]reflect.Value, typ.NumIn())
				for i, in := range ins(typ) {
					args[i] = w.sound(in, 0)
					if in.Kind() == reflect.Slice {
						args[i] = reflect.MakeSlice(in, n, n)
						for k := range n {
							args[i].Index(k).Set(w.sound(in.Elem(), k))
						}
					}
				}
				w.call(t, name, f, args)
			}
			for _, x := range p.functions {
				one(runtime.FuncForPC(reflect.ValueOf(x).Pointer()).Name(), reflect.ValueOf(x))
			}
			for _, x := range p.values {
				v := reflect.ValueOf(x)
				for m := range v.NumMethod() {
					one(v.Type().String()+"."+v.Type().Method(m).Name, v.Method(m))
				}
			}
		})
	}
}

func ins(f reflect.Type) []reflect.Type {
	out := make([]reflect.Type, f.NumIn())
	for i := range out {
		out[i] = f.In(i)
	}
	return out
}
