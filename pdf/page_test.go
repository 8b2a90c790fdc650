package pdf

import "foreply/compare"

type sample struct {
	name string
	rep  *compare.Report
}

func samples() []sample {
	return []sample{
		{"rich", richReport()}, {"both", bothReport()}, {"few", fewReport()},
		{"one-line", oneLineReport()}, {"empty", emptyReport()},
		{"10-lines", manyReport(10)}, {"1000-lines", manyReport(1000)},
	}
}
