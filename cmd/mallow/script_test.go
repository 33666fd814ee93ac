package main

import (
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain also is mallow itself, for the scripts and the tests on a
// terminal. What tests run in this process collects garbage as rarely as mallow does.
func TestMain(m *testing.M) {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(lazyGC)
	}
	testscript.Main(m, map[string]func(){"mallow": main})
}

// TestScript runs the conversations and commands recorded under
// testdata/script with the real program. See the documentation of
// github.com/rogpeppe/go-internal/testscript for their language.
func TestScript(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("..", "..", "testdata", "script"),
		Setup: func(env *testscript.Env) error {
			state := filepath.Join(env.WorkDir, "state")
			env.Setenv("XDG_STATE_HOME", state)
			env.Setenv("XDG_DATA_HOME", filepath.Join(env.WorkDir, "data"))
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			return os.Mkdir(state, 0o700)
		},
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}
