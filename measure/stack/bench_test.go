package stack

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

func BenchmarkMeasure(b *testing.B) {
	tally := shortTally()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Measure(tally); err != nil {
			b.Fatal(err)
		}
	}
}

// objects counts what a value holds in memory of its own: what pointers, lists and
// interfaces refer to, texts aside.
func objects(v reflect.Value) (n int) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			n = 1 + objects(v.Elem())
		}
	case reflect.Interface:
		if !v.IsNil() {
			n = 1 + objects(v.Elem())
		}
	case reflect.Slice:
		if v.Cap() > 0 {
			n = 1
		}
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			n += objects(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			n += objects(v.Field(i))
		}
	}
	return n
}

// Measuring asks for memory once beside what the result itself is made of.
func TestMeasuringIsLean(t *testing.T) {
	for name, tally := range map[string]Tally{"held back": shortTally(), "short": nearestTally(), "full": sellAs(nearestTally(), measure.Cord*3/4)} {
		result := objects(reflect.ValueOf(measured(t, tally)))
		asked := testing.AllocsPerRun(100, func() { _, _ = Measure(tally) })
		assert.LessOrEqual(t, int(asked), result+1, name)
	}
}
