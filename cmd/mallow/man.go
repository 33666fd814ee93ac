package main

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// writeMan writes the manual page in roff, from the same table of commands
// that parses the command line.
func writeMan(w io.Writer, m *kong.Application, version string) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, ".TH MALLOW 1 \"\" %q \"User commands\"\n", roff(version))
	fmt.Fprintf(b, ".SH NAME\nmallow \\- choose and build keyboard-percussion mallet heads\n")
	fmt.Fprintf(b, ".SH SYNOPSIS\n.B mallow\n[\\fIflags\\fR] [\\fIcommand\\fR]\n")
	fmt.Fprintf(b, ".SH DESCRIPTION\n%s\n", roff(m.Help))
	fmt.Fprintf(b, ".SH CONVERSATION\n%s\n", roff("Everything can be said in plain words; Enter goes on. Such lines, one at a time, lead from a wish to a built head:"))
	for _, l := range conversation() {
		fmt.Fprintf(b, ".TP\n.B %s\n%s\n", roff(l.say), roff(l.does))
	}
	fmt.Fprintf(b, ".SH OPTIONS\n")
	manFlags(b, m.Node)
	fmt.Fprintf(b, ".SH COMMANDS\n")
	job := ""
	for _, c := range byJob(m.Leaves(true)) {
		if g := groupOf(c); g != nil && g.Title != job {
			job = g.Title
			fmt.Fprintf(b, ".PP\n.I %s\n", roff(job))
		}
		fmt.Fprintf(b, ".SS \"mallow %s\"\n%s\n", roff(summary(c)), roff(c.Help))
		if x := example(c); x != "" {
			fmt.Fprintf(b, ".PP\n.nf\n%s\n.fi\n", roff(x))
		}
		if c.Detail != "" {
			fmt.Fprintf(b, ".PP\n%s\n", roff(c.Detail))
		}
		for _, p := range c.Positional {
			fmt.Fprintf(b, ".TP\n.I %s\n%s\n", roff(p.Name), roff(p.Help))
		}
		manFlags(b, c)
	}
	fmt.Fprintf(b, ".SH EXIT STATUS\n")
	for _, e := range exitMeanings() {
		fmt.Fprintf(b, ".TP\n.B %d\n%s\n", e.code, roff(e.means))
	}
	fmt.Fprintf(b, ".SH FILES\n")
	for _, f := range files() {
		fmt.Fprintf(b, ".TP\n.I %s\n%s\n", roff(f.path), roff(f.means))
	}
	return b.Flush()
}

// byJob sorts commands by what they are for; within a job they stay as they are.
func byJob(list []*kong.Node) []*kong.Node {
	rank := func(n *kong.Node) int {
		g := groupOf(n)
		return slices.IndexFunc(jobs(), func(x kong.Group) bool { return g != nil && x.Key == g.Key })
	}
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b *kong.Node) int { return cmp.Compare(rank(a), rank(b)) })
	return list
}

// groupOf returns the group of a command, or of the command it belongs to.
func groupOf(n *kong.Node) *kong.Group {
	for ; n != nil; n = n.Parent {
		if n.Group != nil {
			return n.Group
		}
	}
	return nil
}

// example returns the example of a command, or of the command it belongs to.
func example(n *kong.Node) string {
	for ; n != nil; n = n.Parent {
		if n.Tag != nil && n.Tag.Get("example") != "" {
			return n.Tag.Get("example")
		}
	}
	return ""
}

// summary is a command's words with its arguments, without the program name.
func summary(n *kong.Node) string {
	return strings.TrimSpace(strings.TrimPrefix(n.Summary(), "mallow"))
}

func manFlags(w io.Writer, n *kong.Node) {
	for _, f := range n.Flags {
		if f.Hidden {
			continue
		}
		fmt.Fprintf(w, ".TP\n\\fB%s\\fR\n%s\n", roff(f.String()), roff(f.Help))
	}
}

// roff escapes text for a roff line.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		s = `\&` + s
	}
	return s
}

type spoken struct{ say, does string }

// conversation is a conversation in short: what is said, and what it does.
func conversation() []spoken {
	return []spoken{
		{"two mallets, five-octave marimba, medium, all over, all adults, a few sets made, latex is fine, no solvents", "One sentence may answer many questions; what may hurt somebody and was not said is asked. A head is proposed in one screen."},
		{"why", "The reasons, with the numbers that met them; more and the rules go deeper."},
		{"what if it is softer", "What would move. Play both, or show both on a page, lets you hear and see it."},
		{"build", "A card of one screen, then the build one step at a time: done, back, why, no, it slipped. A caution stands before its step."},
		{"3/4 in", "What you measured, when it is asked for; the rest of the build follows it: another cut, other turns, another part of the bag."},
		{"stop here", "Leaves; mallow goes on at that step, days later too. mallow build --list names the builds under way."},
		{"rewrap my old mallets", "Finds what an old head is from what it measures and weighs, and goes through a new wrap; it rattles or new shaft begin a repair."},
		{"lesson 1", "A prepared lesson: predict first, then see."},
	}
}

type exitMeaning struct {
	code  int
	means string
}

func exitMeanings() []exitMeaning {
	return []exitMeaning{
		{exitDone, "Done."},
		{exitFailed, "Failed: a file could not be read or written, the knowledge has an error, or places of a roster could not be used."},
		{exitUsage, "The command line, or a stack or wish on it, could not be understood; or a field of a roster that keeps somebody from harm."},
		{exitNothingFits, "Nothing that can be built meets the wishes, or those of a student."},
		{exitInterrupted, "Interrupted; everything answered so far is saved."},
	}
}

type fileMeaning struct{ path, means string }

func files() []fileMeaning {
	return []fileMeaning{
		{"$XDG_CONFIG_HOME/mallow/*.yaml", "Your own parts, rules, words, steps and lessons, read in order of file name after the built-in ones; --parts adds more, later ones win."},
		{"$XDG_DATA_HOME/mallow/shelf.yaml", "Your shelf. Unset, ~/.local/share/mallow/shelf.yaml."},
		{"$XDG_STATE_HOME/mallow/", "Sessions, the line history and the heads you have measured. Unset, ~/.local/state/mallow."},
	}
}
