package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"mallow/assistant/built"
	"mallow/assistant/save"
	"mallow/knowledge"
	"mallow/knowledge/catalog"
	"mallow/knowledge/correct"
	"mallow/knowledge/head"
	"mallow/knowledge/yamlfile"
	"mallow/rules"
	"mallow/rules/facts"
)

// catalogue loads what is known, corrected by the heads the user has built.
func (a *app) catalogue() (*knowledge.Catalogue, error) {
	cat, err := a.shipped()
	if err != nil {
		return nil, err
	}
	path, err := built.Path(a.getenv)
	if err != nil { // nowhere to have kept any
		return cat, nil
	}
	log, err := built.Read(path, a.err)
	if errors.Is(err, correct.ErrNewer) { // worth no more than what was learnt
		fmt.Fprintf(a.err, "mallow: %v; what was learnt from it is left out\n", err)
		return cat, nil
	}
	if err != nil {
		return nil, err
	}
	return correct.Apply(cat, log.Adjust), nil
}

// shipped loads the shipped knowledge with the user's own over it.
func (a *app) shipped() (*knowledge.Catalogue, error) {
	var overlays []knowledge.Overlay
	if dir, ok := a.configDir(); ok && holdsYAML(dir) {
		overlays = append(overlays, knowledge.Overlay{Name: dir, FS: os.DirFS(dir)})
	}
	for _, f := range a.flags.Parts {
		overlays = append(overlays, knowledge.Overlay{Name: f, FS: os.DirFS(filepath.Dir(f)), File: filepath.Base(f)})
	}
	if len(overlays) == 0 {
		return knowledge.Default()
	}
	return knowledge.Load(catalog.Files(), overlays...)
}

// stack reads a head: parts as the catalogue writes them, or as people name
// them, and then says which were taken.
func (a *app) stack(cat *knowledge.Catalogue, text string) (head.Stack, error) {
	st, err := head.Parse(cat, text)
	if err == nil || !strings.Contains(strings.TrimSpace(text), " ") || strings.ContainsFunc(text, unicode.IsControl) {
		return st, err
	}
	kit, trouble := a.kit()
	if trouble != nil {
		return st, trouble
	}
	named, plain := kit.Stack(text)
	switch {
	case plain == nil:
		fmt.Fprintf(a.err, "mallow: taken as %s\n", named)
		return named, nil
	case strings.ContainsAny(text, "@*"), plain.Error() == err.Error(): // as the catalogue writes it, and wrong
		return st, err
	}
	return st, errors.Join(err, plain)
}

// book loads the shipped rules with the user's own over them.
func (a *app) book() (*rules.Book[facts.Facts], error) {
	var sources []yamlfile.Source
	if dir, ok := a.configDir(); ok {
		more, err := yamlfile.Sources(os.DirFS(filepath.Join(dir, "rules")), filepath.Join(dir, "rules"))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		sources = append(sources, more...)
	}
	for _, f := range a.flags.Rules {
		data, err := save.Read(f)
		if err != nil {
			return nil, fmt.Errorf("rules file: %w", err)
		}
		sources = append(sources, yamlfile.Source{Name: f, Data: data})
	}
	return facts.Book(sources...)
}

// configDir is the user's own knowledge, and whether there is any.
func (a *app) configDir() (string, bool) {
	base := a.getenv("XDG_CONFIG_HOME")
	if base == "" {
		base, _ = os.UserConfigDir() // fails without HOME; then there is nothing of the user's to read
	}
	if !filepath.IsAbs(base) {
		return "", false
	}
	dir := filepath.Join(base, "mallow")
	info, err := os.Stat(dir)
	return dir, err == nil && info.IsDir()
}

// own reports whether the user has knowledge or rules of their own.
func (a *app) own() bool {
	dir, ok := a.configDir()
	return len(a.flags.Parts)+len(a.flags.Rules) > 0 || ok && (holdsYAML(dir) || holdsYAML(filepath.Join(dir, "rules")))
}

// holdsYAML reports whether a folder holds files to read.
func holdsYAML(dir string) bool {
	names, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
	return err == nil && len(names) > 0
}
