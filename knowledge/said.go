package knowledge

import (
	"fmt"
	"mallow/knowledge/yamlfile"
	"slices"
)

// Answer is what is said to something that people ask. Its texts may hold
// {expressions} over the facts of the head at hand and of the offer.
type Answer struct {
	ID    string   `yaml:"id"`
	About []string `yaml:"about"` // what a question may be about, as a reading prints it
	Asks  []string `yaml:"asks"`  // how people ask for it; lower case, without marks
	Text  string   `yaml:"text"`  // once there is a head
	Early string   `yaml:"early"` // before; empty when Text is as good
	Bench string   `yaml:"bench"` // while it is built; empty when Text is as good
	At    []string `yaml:"at"`    // places where it is likelier asked than elsewhere
	Usual bool     `yaml:"usual"` // Early reads the head that most players would get
	Do    string   `yaml:"do"`    // what to show instead of a text
	// Urgent are lists of words and phrases: a line with one of each is answered
	// with this first, whatever else it says. For what hurts somebody now.
	Urgent [][]string `yaml:"urgent"`
	Source string     `yaml:"source"`
	Origin Origin     `yaml:"-"`
}

// Alike are words that mean the same in a question. Those of the record named
// Filler mean nothing there.
type Alike struct {
	ID     string   `yaml:"id"`
	Words  []string `yaml:"words"`
	Origin Origin   `yaml:"-"`
}

// Filler is the record of the words that mean nothing in a question.
const Filler = "filler"

// Subject is what several answers, or troubles, speak of.
type Subject struct {
	ID      string   `yaml:"id"`
	Answers []string `yaml:"answers"`
	Origin  Origin   `yaml:"-"`
}

// Gauge is what is measured at a step of a build, and what can still be done
// there when it is not what the head should show.
type Gauge struct {
	ID    string `yaml:"id"`
	Step  string `yaml:"step"`
	What  string `yaml:"what"` // a quantity that the build knows, such as core_mass
	Ask   string `yaml:"ask"`
	Over  string `yaml:"over"`  // what more than expected tells
	Under string `yaml:"under"` // what less tells
	Fixes []Fix  `yaml:"fixes"` // the likeliest first
	// Answers are the words for a gauge that no tool reads.
	Answers []GaugeAnswer `yaml:"answers"`
	Source  string        `yaml:"source"`
	Origin  Origin        `yaml:"-"`
}

// Fix is a correction that is still possible at its point of a build. Its text
// may hold {fix.turns} and the like.
type Fix struct {
	Do  string `yaml:"do"` // keep, soften, weigh, recut, other, or redo
	Say string `yaml:"say"`
}

// GaugeAnswer is what people say for one state of a gauge.
type GaugeAnswer struct {
	Say []string `yaml:"say"` // the first is the one to be named
	Is  string   `yaml:"is"`  // slack, loose or good
}

// Job is work on a head that is already there, step by step.
type Job struct {
	ID     string   `yaml:"id"`
	Title  string   `yaml:"title"`
	Steps  []string `yaml:"steps"` // ids, in order
	Source string   `yaml:"source"`
	Origin Origin   `yaml:"-"`
}

// Trouble is something that goes wrong with a head at the bench or in use, and
// how to find out why: one check at a time.
type Trouble struct {
	ID     string   `yaml:"id"`
	Asks   []string `yaml:"asks"` // how people put it; lower case, without marks
	Title  string   `yaml:"title"`
	First  string   `yaml:"first"` // said before the first check
	Checks []Check  `yaml:"checks"`
	Else   string   `yaml:"else"` // when no check found it
	Bare   string   `yaml:"bare"` // instead of all, for a head without what the checks look at
	Source string   `yaml:"source"`
	Origin Origin   `yaml:"-"`
}

// What a check may look at that not every head has.
const (
	OfSlices = "slices"
	OfYarn   = "yarn"
)

// Check is one thing to press, turn or listen for.
type Check struct {
	Do       string   `yaml:"do"`       // what to do, ending in a question of yes or no
	Yes      string   `yaml:"yes"`      // what it is, and what to do then
	Of       string   `yaml:"of"`       // what it looks at: OfSlices, OfYarn, or empty for what every head has
	Cautions []string `yaml:"cautions"` // of what Yes has one do
}

// said checks the records of this file.
func (c *checker) said() {
	asks := map[string]string{}
	once := func(id string, list []string) {
		c.need("asks", len(list) > 0)
		for i, ask := range list {
			if other := asks[ask]; other != "" {
				c.bad(fmt.Sprintf("asks.%d", i+1), "keep it in one", "%q is answered by %s too", yamlfile.Clip(ask), other)
			}
			asks[ask] = id
		}
	}
	for _, x := range c.cat.Answers {
		c.at("answers", x.ID)
		c.need("text", x.Text != "" || x.Do != "")
		c.source("source", x.Source)
		once(x.ID, x.Asks)
	}
	group := map[string]string{}
	for _, x := range c.cat.Alike {
		c.at("alike", x.ID)
		c.need("words", len(x.Words) > 0)
		for i, w := range x.Words {
			if other := group[w]; other != "" {
				c.bad(fmt.Sprintf("words.%d", i+1), "keep it in one", "%q is like %s too", yamlfile.Clip(w), other)
			}
			group[w] = x.ID
		}
	}
	for _, x := range c.cat.Subjects {
		c.at("subjects", x.ID)
		for i, id := range x.Answers {
			if _, ok := c.cat.Trouble(id); !ok && !slices.ContainsFunc(c.cat.Answers, func(a Answer) bool { return a.ID == id }) {
				c.bad(fmt.Sprintf("answers.%d", i+1), "the id of an answer or a trouble", "%q is neither", yamlfile.Clip(id))
			}
		}
	}
	for _, x := range c.cat.Gauges {
		c.at("gauges", x.ID)
		c.need("what", x.What != "")
		c.need("ask", x.Ask != "")
		c.source("source", x.Source)
		if _, ok := c.cat.Step(x.Step); !ok {
			c.bad("step", "the id of a step", "%q is no step", yamlfile.Clip(x.Step))
		}
	}
	for _, x := range c.cat.Jobs {
		c.at("jobs", x.ID)
		c.need("title", x.Title != "")
		c.need("steps", len(x.Steps) > 0)
		c.source("source", x.Source)
		for i, id := range x.Steps {
			if _, ok := c.cat.Step(id); !ok {
				c.bad(fmt.Sprintf("steps.%d", i+1), "the id of a step", "%q is no step", yamlfile.Clip(id))
			}
		}
	}
	for _, x := range c.cat.Troubles {
		c.at("troubles", x.ID)
		c.need("title", x.Title != "")
		c.need("checks", len(x.Checks) > 0)
		c.need("else", x.Else != "")
		c.source("source", x.Source)
		once(x.ID, x.Asks)
		every := x.Bare != "" // or every head has what a check looks at
		for i, check := range x.Checks {
			c.need(fmt.Sprintf("checks.%d.do", i+1), check.Do != "")
			c.need(fmt.Sprintf("checks.%d.yes", i+1), check.Yes != "")
			if of := check.Of; of != "" && of != OfSlices && of != OfYarn {
				c.bad(fmt.Sprintf("checks.%d.of", i+1), "slices, yarn, or nothing", "%q", yamlfile.Clip(of))
			}
			every = every || check.Of == ""
			for j, id := range check.Cautions {
				if _, ok := c.cat.Caution(id); !ok {
					c.bad(fmt.Sprintf("checks.%d.cautions.%d", i+1, j+1), "the id of a caution", "%q is no caution", yamlfile.Clip(id))
				}
			}
		}
		c.need("bare", every)
	}
}
