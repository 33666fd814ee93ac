// Package toolbox holds what a conversation draws on, made when it is first used:
// the catalogue, the book, the finder, readers, answers, steps; and it reads a
// wish that is given all at once. It never talks.
package toolbox

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"strings"
	"sync"

	"mallow/assistant/along"
	"mallow/assistant/answer"
	"mallow/assistant/hand"
	"mallow/assistant/inquiry"
	"mallow/assistant/lesson"
	"mallow/assistant/offer"
	"mallow/assistant/settled"
	"mallow/assistant/sheet"
	"mallow/assistant/understand"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// remember is how many proposals are kept at hand.
const remember = 64

// Kit is what a conversation draws on. What takes long to make is made when it
// is first used.
type Kit struct {
	Catalogue *knowledge.Catalogue
	Book      *rules.Book[facts.Facts]
	Finder    *propose.Finder

	Ground *settled.Ground // what every conversation starts from
	Offers *offer.Offers
	Asker  *inquiry.Asker

	reading  later[*understand.Reader]
	making   later[*sheet.Maker]
	teaching later[[]lesson.Lesson]
	replying later[*answer.Answers]
	guiding  later[*along.Guide]
}

// later makes something when it is first asked for.
type later[T any] func() (T, error)

func late[T any](cat *knowledge.Catalogue, from func(*knowledge.Catalogue) (T, error)) later[T] {
	return sync.OnceValues(func() (T, error) { return from(cat) })
}

// get returns what was checked before. That it can't be made after all is a
// fault of this program: Shipped was given a catalogue of somebody's own.
func (l later[T]) get() T {
	x, err := l()
	if err != nil {
		panic("assistant: a kit that nobody checked: " + err.Error())
	}
	return x
}

// New gathers what a conversation draws on, and checks that the questions,
// words, steps and lessons of the catalogue fit the facts.
func New(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) (*Kit, error) {
	k, err := Shipped(cat, book)
	if err != nil {
		return nil, err
	}
	var read error
	done := make(chan struct{}) // the readers take as long as the rest
	go func() {
		defer close(done)
		_, read = k.reading()
	}()
	_, steps := k.making()
	_, lessons := k.teaching()
	_, answers := k.replying()
	_, guide := k.guiding()
	<-done
	if err := cmp.Or(steps, read, lessons, answers, guide); err != nil {
		return nil, err
	}
	return k, nil
}

// Shipped is New for knowledge that is known to fit, as what mallow ships
// does, which the tests hold: it checks nothing, and so is there at once.
func Shipped(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) (*Kit, error) {
	k := &Kit{Catalogue: cat, Book: book,
		reading:  late(cat, understand.New),
		making:   late(cat, sheet.NewMaker),
		teaching: late(cat, lesson.New),
		replying: late(cat, answer.New),
	}
	var err error
	if k.Finder, err = propose.New(cat, book); err != nil {
		return nil, err
	}
	k.guiding = late(cat, func(cat *knowledge.Catalogue) (*along.Guide, error) {
		sheets, err := k.making()
		if err != nil {
			return nil, err
		}
		return along.New(cat, k.Finder, sheets)
	})
	return k.Afresh()
}

// Afresh returns a kit of the same knowledge for another conversation, with no
// shelf and without what was proposed before.
func (k *Kit) Afresh() (*Kit, error) {
	n := *k
	var err error
	if n.Ground, err = settled.NewGround(k.Catalogue); err != nil {
		return nil, err
	}
	n.Offers = offer.New(k.Catalogue, k.Finder, remember)
	n.Asker = inquiry.New(k.Catalogue, k.Book, k.Finder, n.Offers)
	return &n, nil
}

// Watch has f told how many heads have been looked at, while a reply looks.
func (k *Kit) Watch(f func(tried int)) { k.Offers.Watch = f }

// Heed has a longer look broken off by what breaks gives, and begins told when there is one.
func (k *Kit) Heed(breaks <-chan os.Signal, begins func()) {
	k.Offers.Breaks, k.Offers.Begins = breaks, begins
}

// Reader reads lines.
func (k *Kit) Reader() *understand.Reader { return k.reading.get() }

// Stack reads a head whose parts are written as the catalogue has them, or
// named as people name them. A description that says how soft it plays, on what, tells by
// that which of the hardnesses its ball has that are sold in that size.
func (k *Kit) Stack(text string) (head.Stack, error) {
	st, err := head.Parse(k.Catalogue, text)
	if err == nil || !strings.Contains(text, " ") {
		return st, err
	}
	list, err := hand.Stacks(k.Catalogue, k.Reader(), text)
	if err != nil {
		return head.Stack{}, err
	}
	w := k.Wish(text)
	if len(list) == 1 || !w.Request.Known[facts.WantSoftness] || !w.Request.Known[facts.InstrumentKind] {
		return list[0], nil
	}
	best, least := list[0], math.Inf(1)
	word := strike.Grade(w.Request.Facts.Want.Softness, k.Catalogue.Scale.For(w.Request.Facts.Instrument.Kind))
	for _, st := range list {
		c, err := k.Finder.Consider(st, w.Request)
		if err != nil {
			return head.Stack{}, err
		}
		if c.Report.Grade == word {
			return st, nil
		}
		if off := math.Abs(c.Facts.Head.Softness - w.Request.Facts.Want.Softness); off < least {
			best, least = st, off
		}
	}
	return best, nil
}

// Sheets writes build sheets.
func (k *Kit) Sheets() *sheet.Maker { return k.making.get() }

// Lessons are the prepared lessons.
func (k *Kit) Lessons() []lesson.Lesson { return k.teaching.get() }

// Answers are what is said to things that people ask.
func (k *Kit) Answers() *answer.Answers { return k.replying.get() }

// Guide goes through builds.
func (k *Kit) Guide() *along.Guide { return k.guiding.get() }

// Use lets conversations and wishes use parts on hand: a maker's shelf.
func (k *Kit) Use(bin *stock.Bin) { k.Ground.Shelf = bin }

// Owned is how many kinds of parts are on the shelf that is used.
func (k *Kit) Owned() int {
	kinds := map[string]bool{}
	if k.Ground.Shelf != nil {
		for _, it := range k.Ground.Shelf.Items {
			kinds[it.Part] = true
		}
	}
	return len(kinds)
}

// Shelf is the parts on hand that are used, nil when there are none.
func (k *Kit) Shelf() *stock.Bin { return k.Ground.Shelf }

// UsesShelf says that so many kinds of parts on the shelf are used.
func UsesShelf(kinds int) string {
	return fmt.Sprintf("What is on your shelf is used first (kinds of part: %d; mallow shelf lists them, --no-shelf leaves them out).", kinds)
}
