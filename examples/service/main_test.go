package main

import (
	"encoding/json"
	"math"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"example.org/saddlepoint/units"
)

// ask posts a question and decodes the answer.
func ask(t *testing.T, path, body string, into any) {
	t.Helper()
	w := httptest.NewRecorder()
	handler().ServeHTTP(w, httptest.NewRequest("POST", path, strings.NewReader(body)))
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "application/json" {
		t.Fatalf("got %d, %s: %s, want JSON", w.Code, w.Header().Get("Content-Type"), w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), into); err != nil {
		t.Fatal(err)
	}
}

func TestAnswers(t *testing.T) {
	var places struct {
		From []units.Length `json:"from_nut"`
	}
	ask(t, "/frets", `{"scale": "640mm", "frets": 24}`, &places)
	if at := places.From; len(at) != 24 || at[11] != 320 || at[23] != 480 {
		t.Errorf("got %v, want 24 places, the 12th at 320 mm and the 24th at 480", at)
	}
	// With X = 2^(7/1200), L = 647.7 mm and half of it: L/2 (X - 1)/(1 - X/2).
	var moved struct{ Back units.Length }
	ask(t, "/move", `{"scale": "25.5in", "cents": "+7c"}`, &moved)
	if math.Abs(float64(moved.Back)-2.635) > 0.0005 {
		t.Errorf("got %v, want 2.635 mm", moved.Back)
	}
}

func TestRefused(t *testing.T) {
	h := handler()
	for _, test := range []struct {
		method, path, body string
		status             int
		want               string
	}{
		{"POST", "/frets", `{"scale": "648", "frets": 22}`, 400, `{"error":"\"648\": at byte 3: got nothing, want a unit of length: mm, cm, m, in, thou, 64ths (such as 648mm)"}`},
		{"POST", "/frets", `{"scale": "648mm", "frets": 0}`, 400, `{"error":"got 0 frets, want 1 to 1000"}`},
		{"POST", "/frets", `{"scale": "-1mm", "frets": 3}`, 400, `{"error":"got a scale of -1mm, want more than 0"}`},
		{"POST", "/move", `{"scale": "648mm", "cents": "7mm"}`, 400, `{"error":"\"7mm\": at byte 0: got a length, want a number of cents in c"}`},
		{"POST", "/move", `{"scale": "648mm", "gauge": "10p"}`, 400, `{"error":"json: unknown field \"gauge\""}`},
		{"POST", "/move", `{"cents": "+7c"}`, 400, `{"error":"got a scale of 0mm, want more than 0"}`},
		{"POST", "/move", ``, 400, `{"error":"EOF"}`},
		{"POST", "/move", `"` + strings.Repeat("a", 2000) + `"`, 400, `{"error":"http: request body too large"}`},
		{"GET", "/move", ``, 405, `Method Not Allowed`},
		{"POST", "/tune", `{}`, 404, `404 page not found`},
	} {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest(test.method, test.path, strings.NewReader(test.body)))
		if got := strings.TrimSpace(w.Body.String()); w.Code != test.status || got != test.want {
			t.Errorf("%s %s %.60s: got %d and %s, want %d and %s", test.method, test.path, test.body, w.Code, got, test.status, test.want)
		}
	}
}
