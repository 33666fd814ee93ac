package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"mallow/assistant"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/fault"
)

// Exit codes, as documented in the manual page.
const (
	exitDone        = 0
	exitFailed      = 1
	exitUsage       = 2
	exitNothingFits = 3
	exitInterrupted = 130
)

// stdio is where a command reads and writes, the environment it runs in, and what it draws on.
type stdio struct {
	in       *os.File
	out, err io.Writer
	getenv   func(string) string
	load     func(*app) (*assistant.Kit, error) // instead of loading anew
}

// app is what every command is given.
type app struct {
	stdio
	ctx   context.Context
	flags *commands
	model *kong.Application
}

// usagef returns an error that exits with the code for bad usage.
func usagef(format string, args ...any) error {
	return usageError{fmt.Errorf(format, args...)}
}

// unknown is usagef with a hint at what was meant, which may be empty.
func unknown(hint, format string, args ...any) error {
	return usageError{&fault.Error{What: fmt.Sprintf(format, args...), Hint: hint}}
}

type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// run carries out one command line and returns the exit code.
func run(ctx context.Context, args []string, io stdio) int {
	if len(args) == 1 && args[0] == "--version" {
		if _, err := fmt.Fprintln(io.out, version()); err != nil {
			fmt.Fprintln(io.err, "mallow:", oneLine(err))
			return exitFailed
		}
		return exitDone
	}
	if len(args) > 0 && args[0] == "help" { // mallow help, mallow help sheet
		args = append(slices.Clone(args[1:]), "--help")
	}
	var flags commands
	if parsed := narrow(&flags, args); parsed != nil {
		return carryOut(ctx, parsed, &flags, io)
	}
	code := -1
	out := &checked{Writer: io.out}
	parser, err := kong.New(&flags,
		kong.Name("mallow"),
		kong.Description("Softness, weight and size of a mallet head, from the parts to the build sheet. Without a command it asks you what you need."),
		kong.Vars{"version": version()},
		kong.Writers(out, io.err),
		kong.Exit(func(c int) { code = c }),
		kong.ExplicitGroups(jobs()),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}),
	)
	if err != nil {
		fmt.Fprintln(io.err, "mallow:", err)
		return exitFailed
	}
	parsed, err := parser.Parse(args)
	if code >= 0 && out.err == nil { // --help and --version have printed
		return code
	}
	if out.err != nil {
		err = out.err
	}
	var disk *fs.PathError
	switch {
	case errors.As(err, &disk): // the help or the version could not be written
		fmt.Fprintln(io.err, "mallow:", oneLine(err))
		return exitFailed
	case err != nil:
		fmt.Fprintf(io.err, "mallow: %s; `mallow --help` lists what is valid\n", oneLine(err))
		return exitUsage
	}
	return carryOut(ctx, parsed, &flags, io)
}

// checked is a writer that remembers whether writing failed.
type checked struct {
	io.Writer
	err error
}

// Write is a Writer's.
func (c *checked) Write(b []byte) (int, error) {
	n, err := c.Writer.Write(b)
	if err != nil {
		c.err = err
	}
	return n, err
}

// jobs are the groups of commands, by what they are for, each with an example.
func jobs() []kong.Group {
	return []kong.Group{
		{Key: "choose", Title: "Choose a head:", Description: "mallow set 4 --want 'marimba, two mallets, adults, latex is fine'"},
		{Key: "build", Title: "Build it, and know what you have:", Description: "mallow build 'poly-1-1/8 + 3/4x1/8@1 + wool-medium'"},
		{Key: "teach", Title: "Teach:", Description: "mallow class roster.yaml --html class.html; in the conversation: lesson 1"},
		{Key: "know", Title: "Know what is known:", Description: "mallow parts tubing"},
	}
}

// carryOut runs the command of a command line and returns the exit code.
func carryOut(ctx context.Context, parsed *kong.Context, flags *commands, io stdio) int {
	command := func() error { return parsed.Run(&app{stdio: io, ctx: ctx, flags: flags, model: parsed.Model}) }
	var err error
	if parsed.Command() == "talk" { // knows best how to end
		err = command()
	} else {
		err = within(ctx, grace, command)
	}
	if err != nil && !errors.Is(err, errSaid) {
		fmt.Fprintln(io.err, "mallow:", oneLine(err))
	}
	return exitCode(ctx, err)
}

// grace is how long a command that was interrupted may take to end.
const grace = time.Second

// within runs command, and leaves it behind if it is still at work that long
// after ctx has ended.
func within(ctx context.Context, grace time.Duration, command func() error) error {
	done := make(chan error, 1)
	go func() { done <- command() }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	select {
	case err := <-done:
		return err
	case <-time.After(grace):
		return errors.Join(errSaid, ctx.Err())
	}
}

// oneLine returns err for a person, without control characters, which may
// come from a file name or an argument. Where several things are wrong, each
// has a line, and each line the program's name.
func oneLine(err error) string {
	return strings.ReplaceAll(page.Clean(reply.Sentence(err)), "\n", "\nmallow: ")
}

// version is the module version and revision out of the build information.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "mallow (unknown version)"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && v == "(devel)" {
			v = s.Value
		}
	}
	return "mallow " + v + " " + info.GoVersion
}
