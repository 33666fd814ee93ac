package main

import (
	"bufio"
	"fmt"
	"io"
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
	fmt.Fprintf(b, ".SH OPTIONS\n")
	manFlags(b, m.Node)
	fmt.Fprintf(b, ".SH COMMANDS\n")
	for _, c := range m.Leaves(true) {
		fmt.Fprintf(b, ".SS \"mallow %s\"\n%s\n", roff(summary(c)), roff(c.Help))
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

type exitMeaning struct {
	code  int
	means string
}

func exitMeanings() []exitMeaning {
	return []exitMeaning{
		{exitDone, "Done."},
		{exitFailed, "Failed: a file could not be read or written, or the knowledge has an error."},
		{exitUsage, "The command line, or a stack or wish on it, could not be understood."},
		{exitNothingFits, "Nothing that can be built meets the wishes."},
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
