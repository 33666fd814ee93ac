// Package desk hands a page or a sound to the desktop that mallow runs on: to
// the usual commands that play a sound or open a page, found by name and never
// installed. Where there is none it writes a file and says how to use it. It
// knows nothing of what is in the file.
package desk

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"

	"mallow/assistant/save"
)

// Desk is a desktop, or the lack of one.
type Desk struct {
	Dir    string                            // where files are written
	Look   func(name string) (string, error) // finds a command
	Run    func(ctx context.Context, path string, args ...string) error
	Getenv func(string) string
	System string // as runtime.GOOS
}

// Here is the desktop that the program runs on; files go to dir.
func Here(dir string) Desk {
	return Desk{Dir: dir, Look: exec.LookPath, Getenv: os.Getenv, System: runtime.GOOS,
		Run: func(ctx context.Context, path string, args ...string) error {
			return exec.CommandContext(ctx, path, args...).Run()
		}}
}

// players are the commands that play a sound file and end, the likeliest on a
// desktop first, with the words that go before the file.
func players() [][]string {
	return [][]string{
		{"pw-play"}, {"paplay"}, {"afplay"}, {"aplay", "-q"}, {"play", "-q"},
		{"ffplay", "-nodisp", "-autoexit", "-loglevel", "error"}, {"mpv", "--no-video", "--really-quiet"},
	}
}

// Play plays a sound of a name. Where that can't be done it writes the file
// and says how to play it; what it did is returned as a sentence.
func (d Desk) Play(ctx context.Context, name string, render func(io.Writer) error) (string, error) {
	temp, err := os.MkdirTemp("", "mallow-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(temp)
	path := filepath.Join(temp, name)
	if err := save.File(path, true, render); err != nil {
		return "", err
	}
	for _, p := range players() {
		found, err := d.Look(p[0])
		if err != nil {
			continue
		}
		err = d.Run(ctx, found, append(append([]string{}, p[1:]...), path)...)
		if err == nil || ctx.Err() != nil {
			return "Played by " + p[0] + ".", ctx.Err()
		}
	}
	kept, err := d.Save(name, render)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("Nothing here could play it, so the sound is in %s: open that file in any sound player, here or on another machine.", kept), nil
}

// Save writes a file under a name that is free: the name itself, or with a
// number. It returns the path.
func (d Desk) Save(name string, render func(io.Writer) error) (string, error) {
	ext := filepath.Ext(name)
	base := strings.TrimSuffix(name, ext)
	const most = 1000
	for n := 1; n <= most; n++ {
		path := filepath.Join(d.Dir, name)
		if n > 1 {
			path = filepath.Join(d.Dir, fmt.Sprintf("%s-%d%s", base, n, ext))
		}
		err := save.File(path, false, render)
		if !errors.Is(err, save.ErrExists) {
			return path, err
		}
	}
	return "", fmt.Errorf("%d files are called like %s already", most, filepath.Join(d.Dir, name))
}

// Browser is the command that opens a page, and whether there is a desktop to
// open it on.
func (d Desk) Browser() (string, bool) {
	name := "xdg-open"
	switch d.System {
	case "darwin":
		name = "open"
	case "windows":
		name = "explorer"
	default:
		if d.Getenv("DISPLAY") == "" && d.Getenv("WAYLAND_DISPLAY") == "" {
			return "", false
		}
	}
	path, err := d.Look(name)
	return path, err == nil
}

// Open opens a page that was saved.
func (d Desk) Open(ctx context.Context, path string) error {
	browser, ok := d.Browser()
	if !ok {
		return errors.New("there is no desktop here to open a page on")
	}
	return d.Run(ctx, browser, path)
}
