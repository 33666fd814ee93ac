package reply

import (
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/understand/reading"
)

// Reading says what would be taken from a line.
func Reading(in reading.Reading) page.Page {
	var p page.Page
	say := func(title string, list []string) {
		if len(list) > 0 {
			p = append(p, page.Para(title+": "+strings.Join(list, "; ")+"."))
		}
	}
	report := in.Report()
	acts := make([]string, len(report.Acts))
	for i, a := range report.Acts {
		acts[i] = string(a)
	}
	say("It", acts)
	say("Noted first", in.Noted)
	say("Taken", in.Said)
	say("Taken back", report.Withdraws)
	say("About", report.About)
	asks := make([]string, len(in.Asks))
	for i, d := range in.Asks {
		asks[i] = d.Path
		if d.Text != "" {
			asks[i] += " (“" + d.Text + "”)"
		}
	}
	say("To be asked", asks)
	missed := make([]string, len(in.Missed))
	for i, m := range in.Missed {
		missed[i] = "“" + m + "”"
	}
	say("Not understood", missed)
	return p
}
