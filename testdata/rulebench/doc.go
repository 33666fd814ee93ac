// Package rulebench measures mallow's rule engine against the same rules in
// other general-purpose rule libraries. It is a module by itself so that the
// program does not depend on them:
//
//	cd testdata/rulebench && go test -mod=mod -bench . -count 6 | tee out.txt
//
// where -mod=mod follows what the program requires by now. TestSameAnswers checks
// first that all engines agree.
package rulebench
