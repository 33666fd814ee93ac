package main

import (
	"strings"
	"testing"
)

// Under the C locale no box is drawn; under another, or none, one is.
func TestLocale(t *testing.T) {
	for locale, boxes := range map[string]bool{"C": false, "POSIX": false, "C.UTF-8": true, "": true} {
		t.Setenv("LC_ALL", locale)
		t.Setenv("LC_CTYPE", "")
		t.Setenv("LANG", "")
		if _, out, _ := mallow(t, "head", "poly-1-1/8 + wool-medium"); strings.Contains(out, "│") != boxes {
			t.Errorf("LC_ALL=%s: boxes drawn is %v, want %v", locale, !boxes, boxes)
		}
	}
}
