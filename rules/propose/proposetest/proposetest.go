// Package proposetest gives tests a finder over the shipped catalogue and rules.
// It knows how they are loaded; it never checks anything.
package proposetest

import (
	"sync"
	"syscall"
	"testing"
	"time"

	"mallow/knowledge"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// New returns a finder over the shipped catalogue and rules, for examples.
func New() (*propose.Finder, error) {
	cat, err := knowledge.Default()
	if err != nil {
		return nil, err
	}
	book, err := facts.Book()
	if err != nil {
		return nil, err
	}
	return propose.New(cat, book)
}

// shared is one finder for all tests of a package: what it remembers changes
// nothing but how long they take, which TestRememberedIsTheSame holds.
var shared = sync.OnceValues(New)

// Finder returns the finder over the shipped catalogue and rules that the tests of
// a package share. They change neither.
func Finder(tb testing.TB) *propose.Finder { return must(tb, shared) }

// Fresh returns a finder that remembers nothing, for tests of what that changes and
// of how long it takes.
func Fresh(tb testing.TB) *propose.Finder { return must(tb, New) }

func must(tb testing.TB, from func() (*propose.Finder, error)) *propose.Finder {
	tb.Helper()
	f, err := from()
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

// Player is a plain request: two mallets on a marimba, latex allowed, and the
// patience of a conversation.
func Player() propose.Request {
	q := propose.Request{Most: 20_000}
	q.Facts.Player = facts.Player{Grip: "two", Level: "some"}
	q.Facts.Instrument.Kind = "marimba"
	q.Facts.Bench = facts.Bench{Drill: true, Scale: true, Caliper: true}
	q.Pass = Grown()
	return q
}

// Grown is the pass of adults who may have latex, in a place with moving air,
// and want no solvent.
func Grown() gate.Pass {
	return gate.Settle(gate.Stated{Minor: gate.No, LatexOK: gate.Yes, RubberOK: gate.Yes, SolventOK: gate.No, Ventilated: gate.Yes})
}

// Spent returns the processor time of the process so far: on a machine that
// others use as well, it says more than the clock.
func Spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
