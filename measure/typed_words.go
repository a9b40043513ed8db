package measure

import (
	"math/big"
	"strings"
)

// maxSpoken is the largest number that is read in words.
const maxSpoken = 999

// spoken reads a number in words: "a", "two", "forty-eight", "half", "two thirds",
// "two and a half", "a couple of"; and one where the words leave it out, as "cord and
// a half" and "full cord" do.
func (r *reader) spoken() (*big.Rat, *InputError) {
	t := r.peek(0)
	if parts := fractionWord(t); parts != 0 {
		return r.parts(big.NewRat(1, 1), parts)
	}
	if r.leavesOutOne() {
		return big.NewRat(1, 1), nil
	}
	if wordIndex(t, "thousand", "million") != 0 {
		return nil, tooManyWords()
	}
	if !startsCardinal(t) {
		return nil, notRead("not-a-number", "“%s” is not a number", t.text)
	}
	from := r.at
	count, fault := r.cardinal()
	if fault != nil {
		return nil, fault
	}
	return r.withFraction(big.NewRat(count, 1), true, strings.ToLower(r.typed(from, r.at)))
}

// leavesOutOne tells whether a unit comes without its number and one is meant.
func (r *reader) leavesOutOne() bool {
	if r.peek(0).text == "full" && r.peek(1).text == "cord" {
		return true
	}
	n := 1
	if wordIndex(r.peek(0), "face", "cubic") != 0 {
		n = 2
	}
	unit := wordIndex(r.peek(n-1), "cord", "rick", "foot", "inch", "yard", "metre", "meter") != 0
	return unit && r.peek(n).text == "and" && r.fractionAhead(n+1, true)
}

// startsCardinal tells whether t is the first word of a whole number in words.
func startsCardinal(t token) bool {
	return wordIndex(t, "a", "an", "zero", "couple") != 0 || belowTwenty(t) != 0 || tens(t) != 0
}

// belowTwenty gives the number from 1 to 19 that a word stands for, else 0.
func belowTwenty(t token) int64 {
	return wordIndex(t, "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
}

// tens gives the multiple of ten from 20 to 90 that a word stands for, else 0.
func tens(t token) int64 {
	if n := wordIndex(t, "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"); n != 0 {
		return 10 * (n + 1)
	}
	return 0
}

// cardinal reads a whole number in words from 0 to maxSpoken, where one starts.
func (r *reader) cardinal() (int64, *InputError) {
	if r.skip("zero") {
		return 0, nil
	}
	article := r.skip("a", "an")
	if r.skip("couple") {
		r.skip("of")
		return 2, nil
	}
	count := int64(1)
	if !article {
		count = r.belowHundred()
	}
	if count < 10 && r.skip("hundred") {
		count = 100*count + r.afterHundred()
	}
	if wordIndex(r.peek(0), "hundred", "thousand", "million") != 0 {
		return 0, tooManyWords()
	}
	return count, nil
}

func tooManyWords() *InputError {
	return notRead("too-large", "a number in words is read up to %d", maxSpoken).accepting("the number in figures")
}

// belowHundred reads a number in words from 1 to 99, else 0.
func (r *reader) belowHundred() int64 {
	if ten := tens(r.peek(0)); ten != 0 {
		r.at++
		if one := belowTwenty(r.peek(0)); 0 < one && one < 10 {
			r.at++
			return ten + one
		}
		return ten
	}
	n := belowTwenty(r.peek(0))
	if n != 0 {
		r.at++
	}
	return n
}

// afterHundred reads what is added to hundreds: "and forty-eight", "forty-eight". A
// fraction after "and" is left for who reads fractions.
func (r *reader) afterHundred() int64 {
	start := r.at
	if r.skip("and") && r.atFraction(true) {
		r.at = start
		return 0
	}
	rest := r.belowHundred()
	if rest == 0 {
		r.at = start
	}
	return rest
}

// fractionWord gives how many of the named part make one, 0 for no such word.
func fractionWord(t token) int64 {
	if t.kind != wordToken {
		return 0
	}
	t.text = strings.TrimSuffix(t.text, "s")
	switch t.text {
	case "half", "halve":
		return 2
	case "quarter":
		return 4
	case "twelfth":
		return 12
	case "sixteenth":
		return 16
	}
	if n := wordIndex(t, "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"); n != 0 {
		return n + 2
	}
	return 0
}
