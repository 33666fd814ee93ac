package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// writeCompletion writes a completion script for shell (bash, zsh or fish)
// from the same table of commands that parses the command line.
func writeCompletion(w io.Writer, m *kong.Application, shell string) error {
	if shell == "fish" {
		return fishCompletion(w, m)
	}
	if shell == "zsh" {
		fmt.Fprintln(w, "autoload -U +X bashcompinit && bashcompinit")
	}
	fmt.Fprintf(w, "_mallow() {\n  local cur=${COMP_WORDS[COMP_CWORD]} word cmd=\n")
	fmt.Fprintf(w, "  for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n    case $word in\n")
	for _, c := range visible(m.Children) {
		fmt.Fprintf(w, "    %s) cmd=%s; break ;;\n", c.Name, c.Name)
	}
	fmt.Fprintf(w, "    esac\n  done\n  case $cmd in\n")
	for _, c := range visible(m.Children) {
		words := append(flagNames(c, m.Node), childNames(c)...)
		fmt.Fprintf(w, "  %s) COMPREPLY=($(compgen -f -W '%s' -- \"$cur\")) ;;\n", c.Name, strings.Join(words, " "))
	}
	words := append(childNames(m.Node), flagNames(m.Node)...)
	fmt.Fprintf(w, "  *) COMPREPLY=($(compgen -W '%s' -- \"$cur\")) ;;\n  esac\n}\n", strings.Join(words, " "))
	_, err := fmt.Fprintln(w, "complete -F _mallow mallow")
	return err
}

func fishCompletion(w io.Writer, m *kong.Application) error {
	for _, f := range shownFlags(m.Node) {
		fmt.Fprintf(w, "complete -c mallow -l %s -d %s\n", f.Name, fishQuote(f.Help))
	}
	for _, c := range visible(m.Children) {
		fmt.Fprintf(w, "complete -c mallow -n __fish_use_subcommand -a %s -d %s\n", c.Name, fishQuote(c.Help))
		within := fmt.Sprintf("'__fish_seen_subcommand_from %s'", c.Name)
		for _, f := range shownFlags(c) {
			fmt.Fprintf(w, "complete -c mallow -n %s -l %s -d %s\n", within, f.Name, fishQuote(f.Help))
		}
		for _, sub := range visible(c.Children) {
			fmt.Fprintf(w, "complete -c mallow -n %s -a %s -d %s\n", within, sub.Name, fishQuote(sub.Help))
		}
	}
	return nil
}

func fishQuote(s string) string {
	return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(s) + "'"
}

func visible(nodes []*kong.Node) []*kong.Node {
	var out []*kong.Node
	for _, n := range nodes {
		if !n.Hidden && n.Type == kong.CommandNode {
			out = append(out, n)
		}
	}
	return out
}

func childNames(n *kong.Node) []string {
	var out []string
	for _, c := range visible(n.Children) {
		out = append(out, c.Name)
	}
	return out
}

func shownFlags(n *kong.Node) []*kong.Flag {
	var out []*kong.Flag
	for _, f := range n.Flags {
		if !f.Hidden {
			out = append(out, f)
		}
	}
	return out
}

func flagNames(nodes ...*kong.Node) []string {
	var out []string
	for _, n := range nodes {
		for _, f := range shownFlags(n) {
			out = append(out, "--"+f.Name)
		}
	}
	return out
}
