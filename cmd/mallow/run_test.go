package main

import (
	"bytes"
	"context"
	"os/exec"
	"strings"
	"testing"
)

// mallow runs a command line in this process and returns what it printed.
func mallow(t *testing.T, args ...string) (code int, out, errs string) {
	t.Helper()
	return in(t, t.TempDir(), args...)
}

// in is mallow with a home that may have been talked in before.
func in(t *testing.T, home string, args ...string) (code int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code = run(context.Background(), args, printing(home, &stdout, &stderr))
	return code, stdout.String(), stderr.String()
}

func TestExitCodes(t *testing.T) {
	t.Parallel()
	const stack = "poly-1-1/8 + 3/4x1/8@1 + wool-medium"
	tests := []struct {
		name string
		args []string
		code int
		says string // in what is printed on standard error; empty for nothing at all
	}{
		{"head", []string{"head", stack}, exitDone, ""},
		{"flag after the argument", []string{"head", stack, "--json"}, exitDone, ""},
		{"flag before the command", []string{"--plain", "head", stack}, exitDone, ""},
		{"slack is reported", []string{"head", "poly-1 + 1x1/8 + wool-medium"}, exitDone, ""},
		{"version", []string{"--version"}, exitDone, ""},
		{"help", []string{"--help"}, exitDone, ""},
		{"unknown part", []string{"head", "poly-1-1/9 + 3/4x1/8"}, exitUsage, "poly-1-1/8"},
		{"fraction over nothing", []string{"head", "poly-1 + 1/0x1/8"}, exitUsage, "1/0"},
		{"wall too thick", []string{"head", "poly-1-1/8 + 3/4x9"}, exitUsage, "wall"},
		{"absurd length", []string{"head", "poly-1-1/8 + 3/4x1/8@-2"}, exitUsage, "-2"},
		{"unknown flag", []string{"head", stack, "--jsn"}, exitUsage, "--json"},
		{"no stack", []string{"head"}, exitUsage, "stack"},
		{"unknown instrument", []string{"head", stack, "--instrument", "marimba-6"}, exitUsage, "marimba"},
		{"unknown rule", []string{"rules", "show", "to-heavy"}, exitUsage, "too-heavy"},
		{"overlay that is not there", []string{"--parts", "nowhere.yaml", "head", stack}, exitFailed, "nowhere.yaml"},
		{"slack can't be built", []string{"sheet", "poly-1 + 1x1/8 + wool-medium + birch-14"}, exitNothingFits, "stretch"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			code, _, errs := mallow(t, tt.args...)
			if code != tt.code {
				t.Errorf("exit code %d, want %d; it said %q", code, tt.code, errs)
			}
			if tt.says == "" && errs != "" || !strings.Contains(errs, tt.says) {
				t.Errorf("standard error is %q, want it to name %q", errs, tt.says)
			}
			if n := strings.Count(strings.TrimSpace(errs), "\n"); n > 0 {
				t.Errorf("more than one line on standard error: %q", errs)
			}
		})
	}
}

// The manual page and the completion scripts are made from the command table,
// so every command has to turn up in them.
func TestEveryCommandIsDocumented(t *testing.T) {
	t.Parallel()
	_, help, _ := mallow(t, "--help")
	for _, args := range [][]string{{"man"}, {"completion", "bash"}, {"completion", "zsh"}, {"completion", "fish"}} {
		_, out, _ := mallow(t, args...)
		for _, name := range []string{"head", "sheet", "hear", "built", "rules", "man", "completion", "talk"} {
			if !strings.Contains(help, name) || !strings.Contains(out, name) {
				t.Errorf("%v does not mention %s", args, name)
			}
		}
	}
}

func TestManualRenders(t *testing.T) {
	t.Parallel()
	man, err := exec.LookPath("man")
	if err != nil {
		t.Skip("man is not installed; Debian's man-db has it")
	}
	_, page, _ := mallow(t, "man")
	cmd := exec.Command(man, "--warnings", "-l", "-")
	cmd.Stdin = strings.NewReader(page)
	var out, warnings bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &warnings
	if err := cmd.Run(); err != nil || warnings.Len() > 0 {
		t.Fatalf("man: %v: %s", err, warnings.String())
	}
	if !strings.Contains(out.String(), "EXIT STATUS") {
		t.Errorf("no exit status in the page:\n%s", out.String())
	}
}

func TestCompletionScriptParses(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("bash is not installed")
	}
	_, script, _ := mallow(t, "completion", "bash")
	try := script + "\nCOMP_WORDS=(mallow he); COMP_CWORD=1; _mallow; echo \"${COMPREPLY[*]}\""
	out, err := exec.Command(bash, "-c", try).CombinedOutput()
	if err != nil || !strings.Contains(string(out), "head") || !strings.Contains(string(out), "hear") {
		t.Fatalf("completing 'he': %v: %s", err, out)
	}
}
