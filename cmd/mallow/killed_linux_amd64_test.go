package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"mallow/assistant/built"
	"mallow/assistant/journal"
	"mallow/assistant/shelf"
	"mallow/knowledge/knowledgetest"
)

// writer is a command that writes a file, in a folder of its own.
type writer struct {
	name   string
	before [][]string // commands run to their end first
	args   []string   // DIR stands for the folder
	stdin  string
	last   []string // files that may be there afterwards, as patterns
	// check returns which state the folder is in: 0 for as before, 1 for after,
	// and what is wrong with it.
	check func(dir string) (int, error)
}

// The program is killed before and after every call that writes, one after the other: what it
// was writing is then as it was or as it should become, whole; what it left
// half-done is gone after the next time; and the next time goes on from there.
// MALLOW_LONG tries every call, else every fifth half is tried.
func TestKilledAtEveryWrite(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	lines := []string{"two mallets", "marimba", "adults only"} // no head is looked for yet
	writers := []writer{
		{
			name: "shelf", before: [][]string{{"shelf", "add", "4 plastic balls 1 1/8"}},
			args: []string{"shelf", "add", "200 g of medium wool"}, last: []string{"mallow/shelf.yaml", "mallow/shelf.yaml.lock"},
			check: func(dir string) (int, error) {
				s, err := shelf.Read(cat, filepath.Join(dir, "mallow", "shelf.yaml"))
				return len(s.Bin.Items) - 1, err
			},
		}, {
			name: "built", before: [][]string{{"built", stackText, "--mass", "22 g"}},
			args: []string{"built", stackText, "--mass", "22.4 g"}, last: []string{"mallow/built.yaml", "mallow/built.yaml.lock"},
			check: func(dir string) (int, error) {
				var said bytes.Buffer
				log, err := built.Read(filepath.Join(dir, "mallow", "built.yaml"), &said)
				if said.Len() > 0 {
					err = fmt.Errorf("%s", said.String())
				}
				return len(log.Heads) - 1, err
			},
		}, {
			name: "sheet", before: [][]string{{"sheet", stackText, "--md", "DIR/sheet.md", "--for", "the first"}},
			args: []string{"sheet", stackText, "--md", "DIR/sheet.md", "--for", "Zephyrine", "--force"}, last: []string{"sheet.md"},
			check: func(dir string) (int, error) {
				data, err := os.ReadFile(filepath.Join(dir, "sheet.md"))
				state := 0
				if bytes.Contains(data, []byte("Zephyrine")) {
					state = 1
				}
				if err == nil && len(data) < 1000 {
					err = fmt.Errorf("%d bytes of a sheet", len(data))
				}
				return state, err
			},
		}, {
			name: "session", args: []string{"talk", "--new"}, stdin: strings.Join(lines, "\n") + "\n",
			last: []string{"mallow/session-*.json", "mallow/session-*.json.lock", "mallow/session-*.state", "mallow/.session-*", "mallow/*.lock"},
			check: func(dir string) (int, error) {
				where := filepath.Join(dir, "mallow")
				if _, err := os.Stat(where); err != nil {
					return 0, nil // not even begun
				}
				s, err := journal.Open(where)
				if err != nil {
					return 0, err
				}
				last, bad, err := s.Last()
				if err != nil || len(bad) > 0 {
					return 0, fmt.Errorf("%v %v", err, bad)
				}
				if last == nil { // the first line was not kept yet
					return 0, nil
				}
				said := last.Session().Said()
				if !slices.Equal(said, lines[:min(len(said), len(lines))]) {
					return 0, fmt.Errorf("it holds %q", said)
				}
				return len(said), nil
			},
		},
	}
	for _, w := range writers {
		t.Run(w.name, func(t *testing.T) { w.kill(t) })
	}
}

// kill runs the command once to its end and then once for every call.
func (w writer) kill(t *testing.T) {
	whole := w.prepare(t)
	calls := w.traced(t, whole, 0)
	after, err := w.check(whole)
	if err != nil || after == 0 || calls < 2 {
		t.Fatalf("not killed: state %d after %d calls, %v", after, calls, err)
	}
	step := 1
	if os.Getenv("MALLOW_LONG") == "" {
		step = 5
	}
	seen := map[int]int{}
	for half := 2; half < 2*calls+2; half += step { // before the call, and after it
		n := half / 2
		dir := w.prepare(t)
		w.traced(t, dir, half)
		state, err := w.check(dir)
		if err != nil || state < 0 || state > after {
			t.Errorf("killed at call %d of %d: state %d, %v", n, calls, state, err)
			continue
		}
		if seen[state]++; w.name == "session" {
			w.takeUp(t, dir, n, state)
		}
		// What was left half-done is not of today.
		filepath.WalkDir(dir, func(path string, _ os.DirEntry, _ error) error {
			if !w.expected(dir, path) {
				old := time.Now().Add(-time.Hour)
				os.Chtimes(path, old, old)
			}
			return nil
		})
		if r := outcome(t, w.command(t, dir)); r.code != exitDone {
			t.Errorf("killed at call %d of %d, the next time: exit code %d, %s", n, calls, r.code, r.errs)
		}
		if now, err := w.check(dir); err != nil || now < after {
			t.Errorf("killed at call %d of %d, the next time: state %d, %v", n, calls, now, err)
		}
		filepath.WalkDir(dir, func(path string, e os.DirEntry, _ error) error {
			if e.Type().IsRegular() && !w.expected(dir, path) {
				t.Errorf("killed at call %d of %d: %s is left behind", n, calls, path)
			}
			return nil
		})
	}
	t.Logf("%d calls; how often each state was met: %v", calls, seen)
	if step == 1 && (seen[0] == 0 || seen[after] == 0) {
		t.Errorf("before and after were not both met: %v", seen)
	}
}

// takeUp holds that what was kept of a conversation is offered, and said.
func (w writer) takeUp(t *testing.T, dir string, n, kept int) {
	t.Helper()
	cmd := program(t, dir, "talk", "--resume")
	r := outcome(t, cmd)
	if r.code != exitDone || strings.Contains(r.out, "Taken up again") != (kept > 0) || strings.Contains(r.out, "Nothing was broken off") != (kept == 0) {
		t.Errorf("killed at call %d with %d lines kept: exit code %d, %.300q %s", n, kept, r.code, r.out, r.errs)
	}
	for _, line := range strings.Split(w.stdin, "\n")[:min(kept, 2)] {
		if !strings.Contains(r.out, "- "+line) {
			t.Errorf("killed at call %d: what was said, %q, is not said again", n, line)
		}
	}
}

func (w writer) expected(dir, path string) bool {
	rel, err := filepath.Rel(dir, path)
	return err == nil && slices.ContainsFunc(w.last, func(p string) bool { ok, _ := filepath.Match(p, rel); return ok })
}

// prepare returns a new folder as the command finds it.
func (w writer) prepare(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, args := range w.before {
		if r := outcome(t, w.commandOf(t, dir, args)); r.code != exitDone {
			t.Fatalf("%q: exit code %d: %s", args, r.code, r.errs)
		}
	}
	return dir
}

func (w writer) command(t *testing.T, dir string) *exec.Cmd { return w.commandOf(t, dir, w.args) }

func (w writer) commandOf(t *testing.T, dir string, args []string) *exec.Cmd {
	t.Helper()
	args = slices.Clone(args)
	for i := range args {
		args[i] = strings.ReplaceAll(args[i], "DIR", dir)
	}
	cmd := program(t, dir, args...)
	cmd.Env = append(cmd.Env, "XDG_DATA_HOME="+dir, "GOMAXPROCS=1")
	cmd.Stdin = strings.NewReader(w.stdin)
	return cmd
}

// traced runs the command and kills it at a half of its calls that write under
// dir: before the nth for 2n, after it for 2n+1, never for zero. It returns how
// many such calls there were.
func (w writer) traced(t *testing.T, dir string, half int) (calls int) {
	t.Helper()
	runtime.LockOSThread() // one thread traces
	defer runtime.UnlockOSThread()
	in, err := os.CreateTemp(t.TempDir(), "in")
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	io.WriteString(in, w.stdin)
	in.Seek(0, io.SeekStart)
	cmd := w.command(t, dir)
	cmd.Stdin, cmd.SysProcAttr = in, &syscall.SysProcAttr{Ptrace: true}
	if err := cmd.Start(); err != nil {
		t.Skipf("the program can't be traced here: %v", err)
	}
	var ws syscall.WaitStatus
	if _, err := syscall.Wait4(cmd.Process.Pid, &ws, syscall.WALL, nil); err != nil {
		t.Fatal(err)
	}
	const exitKill = 0x100000 // PTRACE_O_EXITKILL
	if err := syscall.PtraceSetOptions(cmd.Process.Pid, syscall.PTRACE_O_TRACECLONE|syscall.PTRACE_O_TRACESYSGOOD|exitKill); err != nil {
		t.Fatal(err)
	}
	syscall.PtraceSyscall(cmd.Process.Pid, 0)
	inside, writing := map[int]bool{}, map[int]bool{} // threads within a call, and one that writes
	for {
		pid, err := syscall.Wait4(-1, &ws, syscall.WALL|unix.WNOTHREAD, nil)
		if err != nil {
			return calls // none is left
		}
		if ws.Exited() || ws.Signaled() {
			if pid == cmd.Process.Pid {
				cmd.Process.Release()
				return calls
			}
			continue
		}
		signal := 0
		switch s := ws.StopSignal(); {
		case s == syscall.SIGTRAP|0x80:
			inside[pid] = !inside[pid]
			after := writing[pid]
			if writing[pid] = inside[pid] && writes(pid, dir); writing[pid] {
				calls++
			}
			if writing[pid] && half == 2*calls || after && half == 2*calls+1 {
				syscall.Kill(cmd.Process.Pid, syscall.SIGKILL)
			}
		case s == syscall.SIGTRAP, s == syscall.SIGSTOP: // a new thread
		default:
			signal = int(s)
		}
		syscall.PtraceSyscall(pid, signal)
	}
}

// writes reports whether the call that a thread is about to make changes
// something on a disk: a file under dir, or a name.
func writes(pid int, dir string) bool {
	var r syscall.PtraceRegs
	if syscall.PtraceGetRegs(pid, &r) != nil {
		return false
	}
	switch r.Orig_rax {
	case unix.SYS_OPENAT:
		return r.Rdx&unix.O_CREAT != 0
	case unix.SYS_OPEN:
		return r.Rsi&unix.O_CREAT != 0
	case unix.SYS_WRITE, unix.SYS_PWRITE64, unix.SYS_FTRUNCATE, unix.SYS_FSYNC, unix.SYS_FDATASYNC, unix.SYS_FCHMOD:
		to, err := os.Readlink(fmt.Sprintf("/proc/%d/fd/%d", pid, r.Rdi))
		return err == nil && strings.HasPrefix(to, dir)
	case unix.SYS_RENAME, unix.SYS_RENAMEAT, unix.SYS_RENAMEAT2, unix.SYS_LINK, unix.SYS_LINKAT, unix.SYS_UNLINK, unix.SYS_UNLINKAT,
		unix.SYS_MKDIR, unix.SYS_MKDIRAT, unix.SYS_CHMOD, unix.SYS_FCHMODAT, unix.SYS_TRUNCATE, unix.SYS_SYMLINKAT:
		return true
	}
	return false
}
