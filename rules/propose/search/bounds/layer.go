package bounds

import "mallow/rules/facts"

// Between makes lo and hi the corners of all layers of one slice over what is as large as under x at least and as
// under y at most, whatever that is and however long the slice is cut.
func Between(lo, hi, x, y *facts.Layer) {
	Open(lo, hi)
	for _, l := range []*facts.Layer{lo, hi} {
		l.Latex, l.Chemicals, l.Rubber = x.Latex, x.Chemicals, x.Rubber
		l.BoreMM, l.WallMM, l.Usable = x.BoreMM, x.WallMM, x.Usable
	}
	lo.UnderMM, hi.UnderMM = x.UnderMM, y.UnderMM
	lo.OuterMM, hi.OuterMM = x.OuterMM, y.OuterMM
	lo.Stretch, hi.Stretch = x.Stretch, y.Stretch
	lo.FitWallMM, hi.FitWallMM = y.FitWallMM, x.FitWallMM
	if y.Verdict == "slack" { // on all that is smaller too
		lo.Verdict, hi.Verdict = y.Verdict, y.Verdict
	}
}
