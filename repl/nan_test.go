package repl_test

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// usual are arguments that functions take which find no sense in ones and twos. A
// method's are those after its receiver.
var usual = func() map[string][]any {
	levels, offsets := []units.Length{13, 14, 14.5, 14.4, 13.8, 12.5}, []units.Length{-5, 5}
	line := action.Line{Nut: 0.5, Saddle: 4}
	notes := []intonation.Note{{Reading: intonation.Reading{String: 1, High: 12, Cents: 5}}, {Reading: intonation.Reading{String: 2, High: 12, Cents: -3}}}
	heard := []intonation.Heard{{High: 12, Cents: 3, Doubt: 1.5}, {High: 19, Cents: 4, Doubt: 1.5}, {High: 5, Cents: 2, Doubt: 1.5}}
	by := intonation.LeastSquares
	return map[string][]any{
		"leaves.Set.Limits":       {units.Length(0.55), 2, units.Length(0.05)},
		"fret.Camber":             {units.Length(250), units.Length(20)},
		"fret.RadiusFromCamber":   {units.Length(0.8), units.Length(20)},
		"fret.EqualGaps":          {units.Length(40), []units.Length{0.3, 0.5, 1}},
		"fret.Meantone":           {0.25, 5},
		"fret.Division.Misplaced": {units.Length(648), 12, units.Length(1)},
		"tension.ByUnit":          {units.Length(0.3), units.KindPlainGauge},
		"tension.FitR": {[]tension.Stretched{{By: 1, Pitch: 331, Doubt: 0.2}, {By: 2, Pitch: 333, Doubt: 0.1}, {By: 3, Pitch: 334, Doubt: 0.2}},
			units.Length(648), units.Frequency(329.6)},
		"tension.Wound":            {units.Length(0.9), units.Length(0.4), tension.Steel, tension.Steel},
		"tension.WoundGauge":       {units.Length(0.9), 0.4},
		"action.Sand":              {[]units.Length{-0.3, -0.2, -0.4, -0.1, -0.2, -0.3}, []units.Length{25, 15, 5, -5, -15, -25}, units.Length(3), units.Length(2.5)},
		"action.TwoScrews":         {[]units.Length{0.1, -0.2}, offsets, units.Length(8), units.Length(-8)},
		"action.Board.BestCurve":   {levels},
		"action.Board.Curve":       {levels, units.Length(300)},
		"action.Board.OnRadius":    {[]units.Length(nil), units.Length(640), units.Length(13), units.Length(12), units.Length(300)},
		"action.Heel.Shim":         {units.Length(-0.5), units.Length(648)},
		"action.Neck.BestCurve":    {levels},
		"action.Neck.Curve":        {levels, units.Length(300)},
		"action.Neck.OnRadius":     {[]units.Length(nil), units.Length(640), units.Length(13), units.Length(12), units.Length(300)},
		"action.Neck.Over":         {1, line, 3, 8},
		"action.Neck.ThroughTwo":   {1, 1, units.Length(0.6), 12, units.Length(1.8)},
		"action.Neck.Suspects":     {1, line, action.Swing{Depth: 0.4, Pluck: 120}, []int{3}, []int{8}, []action.Fault(nil)},
		"action.Relief.Reading":    {units.Length(0.2), action.Way{Near: 1, At: 7, Far: 14}, sane.division, units.Length(648)},
		"action.Swing.Check":       {units.Length(648)},
		"*intonation.Model.Fit":    {1, heard, []intonation.Prior{{Of: intonation.Stretch, Spread: 0.1}}},
		"*intonation.Placer.Place": {intonation.Saddle{Rests: []intonation.Rest{{String: 1}, {String: 2, Across: 10}}}, notes, by, sane.division, units.Length(648)},
		"intonation.Saddle.Place":  {notes, by, sane.division, units.Length(648)},
	}
}()

// unheard are numbers that a result does not tell of, and why.
var unheard = map[string]string{
	"tension.String.String 0.UnitWeight": "a string is named by its gauge",
	"tension.String.String 0.Stretch":    "a string is named by its gauge",
	"tension.String.String 0.Bend":       "a string is named by its gauge",
	"tension.String.String 0.Of.Density": "a string is named by its gauge",
	"tension.String.String 0.Of.Young":   "a string is named by its gauge",
	"tension.String.Wound 0.Core":        "a core that is not known",
}

// A function over sane numbers, of which one at a time is NaN: where that one
// matters, the result is an error, or has a NaN in it. In a record, NaN stands for
// what was not read: bench is left out.
func TestNaN(t *testing.T) {
	heard := 0
	for path, p := range hostile {
		if path == "repl/bench" {
			continue
		}
		t.Run(path, func(t *testing.T) {
			w := newWalker()
			for _, x := range p.functions {
				v := reflect.ValueOf(x)
				name := runtime.FuncForPC(v.Pointer()).Name()
				heard += w.oneNaN(t, name[strings.LastIndex(name, "/")+1:], v, nil)
			}
			for _, x := range p.values {
				typ := reflect.TypeOf(x)
				for m := range typ.NumMethod() {
					heard += w.oneNaN(t, typ.String()+"."+typ.Method(m).Name, typ.Method(m).Func, []any{x})
				}
			}
		})
	}
	if heard < 500 {
		t.Errorf("got %d numbers that matter, want 500 at least", heard)
	}
}

// oneNaN calls a function that begins with some arguments, and returns how many
// numbers among them all matter.
func (w *walker) oneNaN(t *testing.T, name string, f reflect.Value, first []any) (heard int) {
	t.Helper()
	first = append(first, usual[name]...)
	args := make([]reflect.Value, f.Type().NumIn())
	for i := range args {
		in := f.Type().In(i)
		switch {
		case i < len(first):
			args[i] = reflect.ValueOf(first[i])
		case in.Kind() == reflect.Slice:
			args[i] = reflect.MakeSlice(in, 2, 2)
			for k := range 2 {
				args[i].Index(k).Set(w.sound(in.Elem(), k))
			}
		default:
			args[i] = w.sound(in, 0)
		}
	}
	base, some := call(f, args), false
	for i, arg := range args {
		numbers(arg, fmt.Sprint(i), func(at string) {
			some = true
			with := func(change func(x float64) float64) []any {
				changed := append([]reflect.Value{}, args...)
				changed[i] = changedAt(arg, fmt.Sprint(i), at, change)
				return call(f, changed)
			}
			matters := false
			for _, change := range []func(float64) float64{
				func(x float64) float64 { return 1.01 * x },
				func(x float64) float64 { return 0.5 * x },
				func(x float64) float64 { return x + 1 },
			} {
				matters = matters || !reflect.DeepEqual(with(change), base)
			}
			if !matters {
				return
			}
			heard++
			out := with(func(float64) float64 { return math.NaN() })
			if key := name + " " + at; !tells(out) && unheard[key] == "" {
				t.Errorf("%s is NaN: got %v, want an error or NaN", key, out)
			}
		})
	}
	if some && tells(base) {
		t.Errorf("%s(%s): got %v, want arguments that make sense", name, shorten(args), base)
	}
	return heard
}

func call(f reflect.Value, args []reflect.Value) []any {
	results := f.Call
	if f.Type().IsVariadic() {
		results = f.CallSlice
	}
	var out []any
	for _, v := range results(args) {
		out = append(out, v.Interface())
	}
	return out
}

// numbers finds the numbers of v, of a list the first two.
func numbers(v reflect.Value, at string, found func(at string)) {
	switch v.Kind() {
	case reflect.Float64:
		found(at)
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				numbers(v.Field(i), at+"."+f.Name, found)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range min(v.Len(), 2) {
			numbers(v.Index(i), fmt.Sprintf("%s[%d]", at, i), found)
		}
	}
}

// changedAt returns a copy of v, which stands at a place, with the number at
// another changed.
func changedAt(v reflect.Value, at, place string, change func(float64) float64) reflect.Value {
	if !strings.HasPrefix(place, at) {
		return v
	}
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Float64:
		if at == place {
			out.SetFloat(change(v.Float()))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				out.Field(i).Set(changedAt(v.Field(i), at+"."+f.Name, place, change))
			}
		}
	case reflect.Slice, reflect.Array:
		if v.Kind() == reflect.Slice {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			reflect.Copy(out, v)
		}
		for i := range v.Len() {
			out.Index(i).Set(changedAt(v.Index(i), fmt.Sprintf("%s[%d]", at, i), place, change))
		}
	}
	return out
}

// tells reports whether a result is an error, or has a NaN in it.
func tells(out []any) bool {
	for _, x := range out {
		if err, ok := x.(error); ok && err != nil || hasNaN(reflect.ValueOf(x)) {
			return true
		}
	}
	return false
}

func hasNaN(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return math.IsNaN(v.Float())
	case reflect.String:
		return strings.Contains(v.String(), "NaN")
	case reflect.Pointer:
		return hasNaN(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			if hasNaN(v.Field(i)) {
				return true
			}
		}
	case reflect.Slice, reflect.Array:
		if v.Type() == reflect.TypeFor[[]byte]() {
			return strings.Contains(string(v.Bytes()), "NaN")
		}
		for i := range v.Len() {
			if hasNaN(v.Index(i)) {
				return true
			}
		}
	}
	return false
}
