package toolbox

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/rules/advise"
	"mallow/rules/facts"
	"mallow/rules/graded"
	"mallow/rules/graded/ladder"
	"mallow/rules/propose"
)

// Set chooses a graded set for a wish that a text asks for. Where the text names
// more than one grade of softness, "from soft to hard", and the options no ends,
// the set goes from one to the other. What is on hand is used first; what makes
// one head of it may not make a whole set, so that more and more is bought until
// one can be had.
func (k *Kit) Set(ctx context.Context, w Wish, text string, o graded.Options) (graded.Set, error) {
	milder := false
	if o.Hardest == nil && o.Softest == nil && o.Gap == 0 {
		milder = k.span(&w.Request.Facts, text, &o)
	}
	set, err := k.set(ctx, w, o)
	if err == nil && milder {
		set.Family += "; for children on bars of wood its hard end is medium hard"
	}
	return set, err
}

// set chooses a set whose ends are settled.
func (k *Kit) set(ctx context.Context, w Wish, o graded.Options) (graded.Set, error) {
	first, err := advise.First(ctx, k.Finder, w.Request)
	if err != nil {
		return graded.Set{}, err
	}
	set, err := k.choose(ctx, w, first.Request, o)
	for _, wider := range advise.Wider(k.Finder, first.Request) {
		if err == nil || ctx.Err() != nil {
			break
		}
		set, err = k.choose(ctx, w, wider, o)
	}
	if err == nil || w.anyBall == nil {
		return set, err
	}
	// Bare balls are graded by what they are made of: who names one names an end.
	q := *w.anyBall
	q.Pass, q.Bin = w.Request.Pass, first.Request.Bin.Whole(k.Catalogue)
	if w.Request.Bin == nil {
		q.Bin = nil
	}
	other, none := graded.Choose(ctx, k.Finder, q, o)
	if none != nil || !other.Bare {
		return set, err
	}
	other.Family += "; the balls that were named do not go so far alone"
	return other, nil
}

// choose chooses a set whose heads weigh or measure the same, where that was asked for and
// can be had; else one that grows as sets do.
func (k *Kit) choose(ctx context.Context, w Wish, q propose.Request, o graded.Options) (graded.Set, error) {
	level := o
	if slices.Contains(w.Keep, facts.WantMassG) {
		level.Mass = cmp.Or(o.Mass, ladder.Level)
	}
	if slices.Contains(w.Keep, facts.WantDiameterMM) {
		level.Size = cmp.Or(o.Size, ladder.Level)
	}
	if set, err := graded.Choose(ctx, k.Finder, q, level); err == nil || level == o {
		return set, err
	}
	return graded.Choose(ctx, k.Finder, q, o)
}

// Spans reports whether a text names more than one grade of softness of a kind of
// instrument.
func (k *Kit) Spans(kind, text string) bool {
	o := graded.Options{Rungs: 2}
	k.span(&facts.Facts{Instrument: facts.Instrument{Kind: kind}}, text, &o)
	return o.Hardest != nil
}

// span sets the ends that a text names, where it names more than one grade of
// softness of the instrument that a set is of, and reports whether the hard end is
// milder than was said.
func (k *Kit) span(of *facts.Facts, text string, o *graded.Options) (milder bool) {
	// A part that is named by what it is called here, such as soft-3/4x1/8, is no wish.
	words := slices.DeleteFunc(strings.Fields(strings.ToLower(text)), func(w string) bool { return strings.ContainsAny(w, "0123456789") })
	left := " " + strings.NewReplacer("-", " ", ",", " ", ".", " ").Replace(strings.Join(words, " ")) + " "
	grades := k.Catalogue.Scale.For(of.Instrument.Kind).Grades
	var named []int
	order := make([]int, len(grades))
	for i := range order {
		order[i] = i
	}
	// The longest first, so that "very hard" is not taken for "hard".
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(grades[b].ID), len(grades[a].ID)) })
	for _, i := range order {
		name := " " + strings.ReplaceAll(grades[i].ID, "-", " ") + " "
		if strings.Contains(left, name) {
			left = strings.ReplaceAll(left, name, "  ")
			named = append(named, i)
		}
	}
	if len(named) < 2 {
		named = k.qualities(words, grades)
	}
	if len(named) < 2 {
		return false
	}
	first, last := slices.Min(named), slices.Max(named)
	if of.Player.Small && of.Instrument.Bars == "wood" { // children hit as hard as they can: nothing hard on wood
		mild := max(first, min(last-1, slices.IndexFunc(grades, func(g knowledge.Grade) bool { return g.ID == "medium hard" })))
		milder, first = mild > first, mild
	}
	band := func(i int) ladder.Band {
		b := ladder.Band{From: math.Inf(-1), To: math.Inf(1)}
		if i > 0 {
			b.From = grades[i].From
		}
		if i+1 < len(grades) {
			b.To = grades[i+1].From
		}
		return b
	}
	o.Words = &[2]ladder.Band{band(first), band(last)}
	hardest, softest := o.Words[0].To-inside(o.Words[0]), o.Words[1].From+inside(o.Words[1])
	// Of two words side by side the ends lie farther in, so that they are heard apart.
	if near := graded.Heard*float64(o.Rungs-1) - (softest - hardest); near > 0 {
		hardest, softest = max(hardest-near/2, o.Words[0].From), min(softest+near/2, o.Words[1].To)
	}
	o.Hardest, o.Softest = &hardest, &softest
	return milder
}

// qualities returns the grades that words for the ends of a set stand for, where one
// leads to the next: from mellow to sharp; dark, normal, brilliant.
func (k *Kit) qualities(words []string, grades []knowledge.Grade) (named []int) {
	at := -1
	for i, word := range words {
		word = strings.Trim(word, ".,;:!?")
		end := slices.IndexFunc(k.Catalogue.Scale.Ends, func(e knowledge.End) bool { return slices.Contains(e.Say, word) })
		if end < 0 {
			continue
		}
		if at >= 0 && !strings.HasSuffix(words[at], ",") && !slices.ContainsFunc(words[at+1:i], func(w string) bool { return w == "to" || w == "through" }) {
			named = nil
		}
		at = i
		named = append(named, slices.IndexFunc(grades, func(g knowledge.Grade) bool { return g.ID == k.Catalogue.Scale.Ends[end].Grade }))
	}
	slices.Sort(named)
	return slices.Compact(named)
}

// inWord is how far into the stretch of its word an end of a set lies: a quarter
// of it, and of wound heads deepest at most, in notches; farther in, the grades
// between lie farther apart than the words do. The trade's graded sets keep
// together; common practice, no source.
const inWord, deepest = 0.25, 0.2

// inside is how far into a word's stretch an end of a set of wound heads lies.
func inside(b ladder.Band) float64 { return min(inWord*width(b), deepest) }

func width(b ladder.Band) float64 {
	if w := b.To - b.From; !math.IsInf(w, 0) {
		return w
	}
	return 2
}
