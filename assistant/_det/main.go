package main

import (
	"context"
	"fmt"
	"hash/fnv"

	"mallow/knowledge"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"time"
)

func main() {
	cat, _ := knowledge.Default()
	book, _ := facts.Book()
	f, err := propose.New(cat, book)
	if err != nil {
		panic(err)
	}
	q := propose.Request{}
	q.Facts.Player.Grip = "two"
	q.Facts.Player.LatexOK = true
	q.Facts.Instrument.Kind = "marimba"
	var last []string
	for range 5 {
		t := time.Now()
		p, err := f.Propose(context.Background(), q)
		if err != nil {
			panic(err)
		}
		h := fnv.New64()
		for _, c := range p.Pool {
			fmt.Fprintln(h, c.Stack.String(), c.Score)
		}
		g := fnv.New64()
		for _, c := range p.Pool[:48] {
			fmt.Fprintln(g, c.Stack.String(), c.Score)
		}
		var now []string
		for _, c := range p.Pool[:48] {
			now = append(now, fmt.Sprintf("%s %.17g", c.Stack, c.Score))
		}
		n := 0
		for i := range last {
			if last[i] != now[i] && n < 4 {
				n++
				fmt.Println(i, last[i], "|", now[i])
			}
		}
		last = now
		a := fnv.New64()
		for _, c := range p.Alternatives {
			fmt.Fprintln(a, c.Stack.String(), c.Score)
		}
		fmt.Println(p.Best.Stack, len(p.Pool), h.Sum64(), g.Sum64(), a.Sum64(), time.Since(t))
	}
}
