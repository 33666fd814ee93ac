// Figures measures mallow as a whole and prints the tables of the guide, with
// the machine, its load and the processor time of each row:
//
//	go run ./cmd/figures            # start, replies, sets and classes
//	go run ./cmd/figures growth     # larger catalogues, books, classes and talks
package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"time"

	"mallow/assistant"
	"mallow/knowledge"
	"mallow/rules/facts"
)

func main() {
	debug.SetGCPercent(600) // as mallow itself runs, for the replies that are measured in here
	debug.SetMemoryLimit(128 << 20)
	if err := figures(context.Background(), slices.Contains(os.Args[1:], "growth")); err != nil {
		fmt.Fprintln(os.Stderr, "figures:", err)
		os.Exit(1)
	}
}

func figures(ctx context.Context, growth bool) error {
	dir, err := os.MkdirTemp("", "figures")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b := bench{ctx: ctx, dir: dir, mallow: filepath.Join(dir, "mallow"), hello: filepath.Join(dir, "hello")}
	if err := b.build(); err != nil {
		return err
	}
	fmt.Printf("%s, %d processors, %s; load %s\n\n", processor(), runtime.NumCPU(), runtime.Version(), load())
	if growth {
		err = b.growth()
	} else {
		for _, table := range []func() error{b.start, b.replies, b.work} {
			if err = table(); err != nil {
				break
			}
		}
	}
	fmt.Printf("\nload at the end %s\n", load())
	return err
}

// bench runs the built program.
type bench struct {
	ctx                context.Context
	dir, mallow, hello string
}

// build builds mallow, and a program that does nothing, to compare with.
func (b *bench) build() error {
	if out, err := exec.Command("go", "build", "-o", b.mallow, "./cmd/mallow").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	source := filepath.Join(b.dir, "hello.go")
	if err := os.WriteFile(source, []byte("package main\n\nimport \"fmt\"\n\nfunc main() { fmt.Println(\"hello\") }\n"), 0o600); err != nil {
		return err
	}
	if out, err := exec.Command("go", "build", "-o", b.hello, source).CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	return nil
}

// cost is what one run took.
type cost struct {
	wall, processor time.Duration
	peakMB          float64
}

// run runs a program once with a folder of its own and the lines given.
func (b *bench) run(program string, lines []string, args ...string) (cost, error) {
	home, err := os.MkdirTemp(b.dir, "home")
	if err != nil {
		return cost{}, err
	}
	defer os.RemoveAll(home)
	c := exec.CommandContext(b.ctx, program, args...)
	c.Env = append(os.Environ(), "HOME="+home, "XDG_STATE_HOME="+home, "XDG_CONFIG_HOME="+home)
	c.Stdin = strings.NewReader(strings.Join(lines, "\n"))
	var errs bytes.Buffer
	c.Stderr = &errs
	began := time.Now()
	const cannot = 3 // a class whose budget can't be met is planned all the same
	if err := c.Run(); err != nil && c.ProcessState.ExitCode() != cannot {
		return cost{}, fmt.Errorf("%v: %w: %s", args, err, errs.String())
	}
	p := c.ProcessState
	peak := 0.0
	if u, ok := p.SysUsage().(*syscall.Rusage); ok {
		peak = float64(u.Maxrss) / 1024
	}
	return cost{time.Since(began), p.UserTime() + p.SystemTime(), peak}, nil
}

// middle returns the median of each cost.
func middle(all []cost) cost {
	of := func(of func(cost) float64) float64 {
		slices.SortFunc(all, func(x, y cost) int { return cmp.Compare(of(x), of(y)) })
		return of(all[len(all)/2])
	}
	return cost{
		time.Duration(of(func(c cost) float64 { return float64(c.wall) })),
		time.Duration(of(func(c cost) float64 { return float64(c.processor) })),
		of(func(c cost) float64 { return c.peakMB }),
	}
}

const runs = 41

// start measures how long the program takes to be there, in turns with a
// program that does nothing, so that both meet the same load.
func (b *bench) start() error {
	fmt.Println("| start | processor time | a Go hello | times | aim | clock |")
	fmt.Println("|---|---|---|---|---|---|")
	for _, x := range []struct {
		name string
		aim  int
		args []string
	}{
		{"`mallow --version`", 4, []string{"--version"}},
		{"the first prompt", 9, []string{"--new"}},
		{"`mallow head --json`", 8, []string{"head", "--json", "poly-1-1/8 + wool-medium"}},
		{"`mallow parts`", 8, []string{"parts"}},
	} {
		var mine, hello []cost
		for range runs {
			c, err := b.run(b.mallow, nil, x.args...)
			if err != nil {
				return err
			}
			h, err := b.run(b.hello, nil)
			if err != nil {
				return err
			}
			mine, hello = append(mine, c), append(hello, h)
		}
		c, h := middle(mine), middle(hello)
		fmt.Printf("| %s | %s | %s | %.1f | %d | %s |\n", x.name, ms(c.processor), ms(h.processor), float64(c.processor)/float64(h.processor), x.aim, ms(c.wall))
	}
	return nil
}

// asked is a player who has said everything that the search needs.
const asked = "marimba, two mallets, medium, all adults, latex is fine, no solvents"

// players are what a panel of players say first.
func players() []string {
	return []string{
		asked,
		"soft and dark for four mallets in a cross grip, five-octave marimba, I am 34, no allergies",
		"hard and bright for xylophone, outdoors, all adults, latex is fine",
		"vibraphone, medium, jazz, four mallets, adults only, one of us avoids latex",
		"bells for a school, pupils of 12, no solvents, a teacher stands by",
		"my first pair, marimba, something general, I am 15",
		"light and small for marimba, low end, all adults, nobody is allergic",
		"a very soft pair for chorales on a four-octave marimba, I am 50, latex is fine",
	}
}

// replies measures each kind of reply over the panel, within one process. A
// line is said to a conversation in which it was not said before.
func (b *bench) replies() error {
	cat, err := knowledge.Default()
	if err != nil {
		return err
	}
	book, err := facts.Book()
	if err != nil {
		return err
	}
	fmt.Println("\n| reply, over a panel of players | processor time: median | worst | clock: median | worst | aim: median, worst |")
	fmt.Println("|---|---|---|---|---|---|")
	lines := []string{"what is a slice", "why", "why not wool-medium", "softer", "what if it is lighter", "no latex", "compare 1 and 2", "back"}
	first, kinds := &timed{}, make([]timed, len(lines))
	for _, player := range players() {
		kit, err := assistant.Shipped(cat, book)
		if err != nil {
			return err
		}
		s := assistant.NewSession(kit)
		first.say(s, player)
		for range 20 { // what is left to ask is answered as Enter does
			if s.Asked() == "" {
				break
			}
			s.Say("")
		}
		for i, line := range lines {
			kinds[i].say(s, line)
		}
	}
	fmt.Printf("| the first sentence%s |  |\n", first)
	for i, line := range lines {
		fmt.Printf("| %s%s | 100 ms, 300 ms |\n", line, &kinds[i])
	}
	return nil
}

// timed is what replies of a kind took.
type timed struct{ processor, clock []time.Duration }

func (t *timed) say(s *assistant.Session, line string) {
	spent, began := used(), time.Now()
	s.Say(line)
	t.clock, t.processor = append(t.clock, time.Since(began)), append(t.processor, used()-spent)
}

// String returns the cells of a row.
func (t *timed) String() string {
	slices.Sort(t.clock)
	slices.Sort(t.processor)
	n := len(t.clock)
	return fmt.Sprintf(" | %s | %s | %s | %s", ms(t.processor[n/2]), ms(t.processor[n-1]), ms(t.clock[n/2]), ms(t.clock[n-1]))
}

// used is the processor time of this process so far.
func used() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func ms(d time.Duration) string {
	if d >= 10*time.Second {
		return fmt.Sprintf("%.1f s", d.Seconds())
	}
	return fmt.Sprintf("%.1f ms", max(0, d.Seconds()*1000))
}

// processor is what the machine calls its processor.
func processor() string {
	data, err := os.ReadFile("/proc/cpuinfo")
	if err != nil {
		return runtime.GOARCH
	}
	for line := range strings.Lines(string(data)) {
		if name, ok := strings.CutPrefix(line, "model name"); ok {
			return strings.Trim(name, "\t :\n")
		}
	}
	return runtime.GOARCH
}

// load is how many programs have wanted a processor over the last minute.
func load() string {
	data, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return "unknown"
	}
	one, _, _ := strings.Cut(string(data), " ")
	return one
}
