package words_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/orders/act"
	"wellstowed/orders/privacy"
	"wellstowed/receipts/words"
)

func TestSpansOfNumbers(t *testing.T) {
	p := words.New("en", act.Imperial)
	for want, numbers := range map[string][]int64{
		"": nil, "4": {4}, "4, 5": {4, 5}, "1 to 3": {1, 2, 3}, "1, 3 to 6, 9, 10": {1, 3, 4, 5, 6, 9, 10},
	} {
		assert.Equal(t, want, p.Spans(numbers))
	}
	assert.Equal(t, []string{"3 receipts are past what the rules ask to be kept: numbers 1 to 3"}, p.Past(privacy.Erased{Receipts: []int64{1, 2, 3}}))
}
