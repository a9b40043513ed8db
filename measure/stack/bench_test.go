package stack

import "testing"

func BenchmarkMeasure(b *testing.B) {
	tally := shortTally()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Measure(tally); err != nil {
			b.Fatal(err)
		}
	}
}
