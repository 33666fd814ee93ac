package main

import (
	"context"
	"io"
	"os"
	"testing"
)

// BenchmarkStart is the time from the command line to the end of a
// conversation in which nothing is said, in this process: what is loaded, put
// together and said before the first prompt.
func BenchmarkStart(b *testing.B) {
	null, err := os.Open(os.DevNull)
	if err != nil {
		b.Fatal(err)
	}
	defer null.Close()
	b.ReportAllocs()
	io := stdio{in: null, out: io.Discard, err: io.Discard, getenv: home(b.TempDir())}
	for b.Loop() {
		if code := run(context.Background(), []string{"talk", "--new"}, io); code != exitDone {
			b.Fatalf("exit code %d", code)
		}
	}
}

// BenchmarkProcess is the same from exec to exit, through a pipe.
func BenchmarkProcess(b *testing.B) {
	for b.Loop() {
		if err := program(b, b.TempDir(), "talk", "--new").Run(); err != nil {
			b.Fatal(err)
		}
	}
}
