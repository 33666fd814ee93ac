package answer

import (
	"math"
	"strings"
)

// letters knows which runs of letters stand in the ways to ask for each thing, so
// that a word counts for what it has in common with another: wobble and wobbly,
// innertube and inner tube, a slip of the pen.
type letters struct {
	id    map[string]int // of a run
	tells []float64      // by run: one of many things tells little
	in    [][]share      // by run
	of    int            // how many things there are
}

// share is how much of one thing's length as a vector lies in a run.
type share struct {
	of   int // the place of the thing
	part float64
}

// A run is of so many letters, the edges of a word counting as one each.
const (
	shortRun = 3
	longRun  = 5
)

// newLetters reads what is said of each thing, in plain lines.
func newLetters(things [][]string) *letters {
	l := &letters{id: map[string]int{}, of: len(things)}
	words := map[string][]int{}
	var counts []float64 // by run, of the thing that is read
	var stands []int     // by run, in so many things
	in := make([][]int, len(things))
	much := make([][]float64, len(things))
	for i, lines := range things {
		for _, line := range lines {
			for _, w := range strings.Fields(line) {
				runs, ok := words[w]
				if !ok {
					runs = l.learn(w)
					words[w] = runs
				}
				for _, r := range runs {
					for len(counts) <= r {
						counts, stands = append(counts, 0), append(stands, 0)
					}
					if counts[r] == 0 {
						in[i] = append(in[i], r)
						stands[r]++
					}
					counts[r]++
				}
			}
		}
		for _, r := range in[i] {
			much[i] = append(much[i], counts[r])
			counts[r] = 0
		}
	}
	l.tells, l.in = make([]float64, len(stands)), make([][]share, len(stands))
	for r, n := range stands {
		l.tells[r], l.in[r] = tells(n, l.of), make([]share, 0, n)
	}
	for i, runs := range in {
		sum := 0.0
		for k, r := range runs {
			much[i][k] *= l.tells[r]
			sum += much[i][k] * much[i][k]
		}
		for k, r := range runs {
			l.in[r] = append(l.in[r], share{i, much[i][k] / math.Sqrt(sum)})
		}
	}
	return l
}

// each calls yield with the runs of letters of a word.
func each(word string, yield func(run string)) {
	word = "^" + word + "$"
	for n := shortRun; n <= longRun; n++ {
		for i := 0; i+n <= len(word); i++ {
			yield(word[i : i+n])
		}
	}
}

// learn returns the runs of a word, new ones added.
func (l *letters) learn(word string) (list []int) {
	each(word, func(run string) {
		r, ok := l.id[run]
		if !ok {
			r = len(l.id)
			l.id[run] = r
		}
		list = append(list, r)
	})
	return list
}

// like is how like the words of a plain line are to those of each thing, from 0
// to 1: the cosine of the angle between them.
func (l *letters) like(plain string) []float64 {
	like, sum := make([]float64, l.of), 0.0
	said := map[int]bool{}
	strange := math.Pow(tells(1, l.of), 2)
	for _, w := range strings.Fields(plain) {
		each(w, func(run string) {
			r, ok := l.id[run]
			switch {
			case !ok:
				sum += strange
			case !said[r]:
				said[r] = true
				sum += l.tells[r] * l.tells[r]
				for _, s := range l.in[r] {
					like[s.of] += l.tells[r] * s.part
				}
			}
		})
	}
	for i := range like {
		like[i] /= max(1, math.Sqrt(sum))
	}
	return like
}
