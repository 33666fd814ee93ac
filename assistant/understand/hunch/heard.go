package hunch

import "mallow/assistant/understand/reading"

// Hear tells what was made of a line by itself so far, as the network is shown it. Missed
// is how many of its words nothing was made of.
func Hear(r reading.Reading, missed int) []reading.Heard {
	var out []reading.Heard
	add := func(what string, much float64) {
		for i := range out {
			if out[i].What == what {
				out[i].Much = max(out[i].Much, float32(much))
				return
			}
		}
		out = append(out, reading.Heard{What: what, Much: float32(much)})
	}
	for _, t := range r.Takes {
		a := reading.Answer{Of: Take, Path: t.Path, Value: t.Value}
		add(t.Path, t.Sure)
		add(name(a)+limited(t), t.Sure)
	}
	for _, f := range r.Harm {
		what := name(reading.Answer{Of: Harm, Path: f.Path, Value: f.Value})
		switch {
		case f.TakesBack:
			what = Withdraw + ":" + f.Path
		case f.Faint:
			what += " faint"
		case f.Doubt:
			what += " doubt"
		}
		add(what, 1)
	}
	for _, m := range r.Moves {
		add(name(reading.Answer{Of: Move, Path: m.Path, Value: m.By}), 1)
	}
	for _, p := range r.Parts {
		add("part."+p.Kind, 1)
		add("part."+p.Kind+"="+string(p.Holding), 1)
	}
	for _, path := range r.Keeps {
		add(Keep+":"+wish(path), 1)
	}
	for _, path := range r.Withdraws {
		add(Withdraw+":"+path, 1)
	}
	for _, d := range r.Asks {
		add("asks:"+d.Path, 1)
	}
	for _, a := range r.Acts {
		add("act:"+string(a), 1)
	}
	if len(out) == 0 {
		add("nothing", 1)
	}
	if missed > 0 {
		const most, unit = 8, 4
		add("missed", float64(min(missed, most))/unit)
	}
	return out
}

// limited tells how an answer limits its fact.
func limited(t reading.Take) string {
	switch {
	case t.Not:
		return "!"
	case t.Bound == "most":
		return "<"
	case t.Bound == "least":
		return ">"
	}
	return ""
}
