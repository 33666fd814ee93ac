package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"mallow/assistant/journal"
	"mallow/assistant/reply"
	"mallow/assistant/save"
	"mallow/assistant/shelf"
	"mallow/knowledge"
	"mallow/knowledge/correct"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

type builtCmd struct {
	Stack      string   `arg:"" optional:"" help:"What the head is made of. Without it, what has been learnt so far is shown."`
	Name       string   `placeholder:"NAME" help:"What you call the head; the stack itself when left out."`
	Mass       string   `placeholder:"MASS" help:"Measured mass of the head without its shaft, such as '22.4 g'."`
	Diameter   string   `placeholder:"LENGTH" help:"Measured diameter over the yarn, such as '36.8 mm' or '1.45 in'."`
	Squeeze    []string `placeholder:"READING" sep:"none" help:"A reading of the squeeze test, such as '2 mm at 3.1 kg'; may be given again."`
	Forget     string   `placeholder:"NAME" help:"Take the head of this name out of the log."`
	SofterThan []string `placeholder:"NAME" help:"A head in the log that this one sounds softer than."`
	HarderThan []string `placeholder:"NAME" help:"A head in the log that this one sounds harder than."`
	output
}

func (c builtCmd) Run(a *app) error {
	cat, err := a.shipped()
	if err != nil {
		return err
	}
	path, log, err := measured()
	if err != nil {
		return err
	}
	if c.Forget != "" && !log.Remove(c.Forget) {
		return usagef("--forget: no head called %q has been recorded", c.Forget)
	}
	if c.Stack != "" {
		b, err := c.built(cat)
		if err != nil {
			return err
		}
		log.Add(b)
		if err := log.Check(); err != nil {
			return usageError{err}
		}
	}
	log, moved, err := a.fit(cat, log)
	if err != nil {
		return err
	}
	if c.Stack != "" || c.Forget != "" {
		if err := writeBuilt(path, log); err != nil {
			return err
		}
	}
	if c.Stack != "" && !a.flags.NoShelf {
		if path, err := shelf.Path(os.Getenv); err == nil {
			if s, err := shelf.Read(cat, path); err == nil && len(s.Bin.Items) > 0 {
				fmt.Fprintf(a.err, "mallow: mallow shelf take --built takes off your shelf what such heads used\n")
			}
		}
	}
	return c.show(a, reply.NewBuilt(log, moved, path))
}

// built reads the flags into a built head.
func (c builtCmd) built(cat *knowledge.Catalogue) (b correct.Built, err error) {
	stack, err := head.Parse(cat, c.Stack)
	if err != nil {
		return b, usageError{err}
	}
	b = correct.Built{Name: c.Name, Stack: stack.String(), SofterThan: c.SofterThan, HarderThan: c.HarderThan}
	if b.Name == "" {
		b.Name = b.Stack
	}
	if c.Mass != "" {
		if b.Mass, err = measure.ParseMass(c.Mass, measure.Gram); err != nil {
			return b, usagef("--mass: %w", err)
		}
	}
	if c.Diameter != "" {
		if b.Diameter, err = measure.ParseLength(c.Diameter, measure.Millimetre); err != nil {
			return b, usagef("--diameter: %w", err)
		}
	}
	for _, text := range c.Squeeze {
		q, err := correct.ParseSqueeze(text)
		if err != nil {
			return b, usagef("--squeeze: %w", err)
		}
		b.Squeezes = append(b.Squeezes, q)
	}
	if c.Mass == "" && c.Diameter == "" && len(c.Squeeze) == 0 && len(c.SofterThan)+len(c.HarderThan) == 0 {
		return b, usagef("give at least one of --mass, --diameter, --squeeze, --softer-than and --harder-than")
	}
	return b, nil
}

// measured returns where the maker's measured heads are kept, and their log.
func measured() (path string, log correct.Log, err error) {
	if path, err = builtFile(); err != nil {
		return "", log, err
	}
	log, err = readBuilt(path)
	return path, log, err
}

// fit fits the shipped figures to the log's heads, on the usual instrument.
func (a *app) fit(cat *knowledge.Catalogue, log correct.Log) (correct.Log, []correct.Moved, error) {
	inst, err := a.instrument(cat, reply.DefaultInstrument)
	if err != nil {
		return log, nil, err
	}
	return correct.Fit(cat, strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}, log)
}

// builtFile is where the maker's measured heads are kept.
func builtFile() (string, error) {
	dir, err := journal.Dir(os.Getenv)
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "built.yaml"), nil
}

// readBuilt reads the log; a file that is not there is an empty one, a damaged one
// is set aside, and one that a newer mallow wrote stays as it is: the error
// wraps correct.ErrNewer.
func readBuilt(path string) (correct.Log, error) {
	data, err := readFile(path)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return correct.Log{Version: correct.Version}, nil
	}
	if err != nil {
		return correct.Log{}, fmt.Errorf("built heads: %w", err)
	}
	log, err := correct.Decode(path, data)
	if err == nil {
		return log, nil
	}
	if errors.Is(err, correct.ErrNewer) {
		return correct.Log{}, fmt.Errorf("the record of built heads is left as it is: %w", err)
	}
	// A damaged log must not be the end of every command.
	aside := path + ".damaged"
	if os.Rename(path, aside) != nil {
		return correct.Log{}, err
	}
	fmt.Fprintf(os.Stderr, "The record of built heads can't be read (%v). It is set aside as %s; what was learnt from it is left out until it is mended.\n", err, aside)
	return correct.Log{Version: correct.Version}, nil
}

func writeBuilt(path string, log correct.Log) error {
	data, err := correct.Encode(log)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("built heads: %w", err)
	}
	return save.File(path, true, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
