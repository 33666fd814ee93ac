// Mallow is a guided build assistant for keyboard-percussion mallet heads.
//
// Without arguments it talks; see `mallow --help` for the one-shot commands.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

// lazyGC lets the heap grow to seven times what is in use. A start allocates
// some 15 MB and keeps most of it, so that collecting on the way, as is usual
// from 4 MB up, would take a third of its time.
const lazyGC = 600

// enough is the memory from which on the garbage is collected as often as need
// be: a catalogue of somebody's own may be large.
const enough = 128 << 20

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(lazyGC)
		debug.SetMemoryLimit(enough)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	code := run(ctx, os.Args[1:], stdio{in: os.Stdin, out: os.Stdout, err: os.Stderr, getenv: os.Getenv})
	stop()
	os.Exit(code)
}
