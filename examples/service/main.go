// Service answers two questions of a workshop's web page as JSON: where the frets
// of a scale go, and how far back to move a saddle for a reading at the 12th fret.
// Quantities are text with their unit, both ways.
//
//	go run ./examples/service
//	curl -d '{"scale": "25.5in", "frets": 22}' http://127.0.0.1:8080/frets
//	curl -d '{"scale": "648mm", "cents": "+7c"}' http://127.0.0.1:8080/move
//
// What is asked wrongly is answered by status 400 and the reason, in the library's
// own words.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"log"
	"net/http"
	"time"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

func main() {
	at := flag.String("at", "127.0.0.1:8080", "`address` to listen at")
	flag.Parse()
	s := &http.Server{Addr: *at, Handler: handler(), ReadTimeout: 5 * time.Second, WriteTimeout: 5 * time.Second, IdleTimeout: time.Minute}
	log.Fatal(s.ListenAndServe())
}

func handler() http.Handler {
	mux := http.NewServeMux()
	mux.Handle("POST /frets", answer(frets))
	mux.Handle("POST /move", answer(move))
	return mux
}

type question struct {
	Scale units.Length
	Frets int
	Cents units.Cents
}

type answer func(question) (any, error)

func (a answer) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	var q question
	var value any
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, 1000))
	d.DisallowUnknownFields()
	err := d.Decode(&q)
	if err == nil {
		value, err = a(q)
	}
	w.Header().Set("Content-Type", "application/json")
	if err != nil {
		w.WriteHeader(http.StatusBadRequest)
		value = map[string]string{"error": err.Error()}
	}
	if err := json.NewEncoder(w).Encode(value); err != nil {
		log.Print(err) // whoever asked has gone
	}
}

func frets(q question) (any, error) {
	if !(q.Scale > 0) {
		return nil, fmt.Errorf("got a scale of %v, want more than 0", q.Scale)
	}
	d, err := fret.Equal(units.Octave, 12, q.Frets)
	return map[string]any{"from_nut": d.Positions(nil, q.Scale)}, err
}

func move(q question) (any, error) {
	d, err := fret.Equal(units.Octave, 12, 12)
	if err != nil {
		return nil, err
	}
	back, err := intonation.Move(intonation.Reading{String: 1, High: 12, Cents: q.Cents}, d, q.Scale)
	return map[string]any{"back": back}, err
}
