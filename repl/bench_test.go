package repl_test

import (
	"context"
	"fmt"
	"io"
	"testing"

	"example.org/saddlepoint/repl"
)

// BenchmarkBatch is a batch of lines that ask: cost against work.
func BenchmarkBatch(b *testing.B) {
	for _, n := range []int{1e3, 1e5, 1e6} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for range b.N {
				script := &lineSource{lines: n, each: func(int) string { return "tension(10p, E4, 25.5in)" }}
				if err := repl.New().Run(context.Background(), "-", script, io.Discard, repl.Words); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
