package wood

import (
	"math"

	"wellstowed/measure"
)

// A Verdict is what readings show against a limit.
type Verdict string

// The verdicts.
const (
	Below   Verdict = "below" // the mean keeps to the limit, with 95 % confidence
	Above   Verdict = "above" // the mean is above the limit, with 95 % confidence
	Neither Verdict = "not settled"
)

// DefaultLimit is 20 % on the dry basis, what a meter shows for wood that the EPA's
// Burn Wise leaflet (456/F-10-003) calls ready to burn; several local rules use it
// for “seasoned”.
func DefaultLimit() Moisture { return fromDry(20) }

// A Limit is how wet wood may be, and how it is held against that: the limit itself is
// dry enough where it is AtMost, and too wet where it is not.
type Limit struct {
	Moisture
	AtMost bool
}

// ReadyToBurn is DefaultLimit as the EPA words it: 20 % or less (the words of its
// film on moisture meters, second-hand).
func ReadyToBurn() Limit { return Limit{DefaultLimit(), true} }

// keeps tells whether a moisture, in percent on the dry basis, keeps to the limit.
func (l Limit) keeps(percent float64) bool {
	limit := l.dryPercent()
	return percent < limit || l.AtMost && percent == limit
}

// Judgement of ours, no source: the fewest pieces that can show wood to be below a
// limit, and the spread between pieces that is never gone below, in points, since a
// meter shows half or whole points.
const (
	FewestPieces = 5
	leastSpread  = 0.5
)

// usualSpread is how far pieces of one load usually lie apart, in points, used
// where a single piece was read: from memory.
const usualSpread = 4.0

// Meters are set at about 20 °C; one maker's manual calls 10 to 32 °C harmless, and
// others give 0.1 to 0.2 points for each degree from 20 (second-hand). Outside that
// range the larger is allowed for. Wood whose temperature was not read may be as cold as
// wood that is just not frozen.
const (
	justThawed      = 0.0
	meterSetAt      = 20.0
	harmlessLow     = 10.0
	harmlessHigh    = 32.0
	pointsPerDegree = 0.2
)

// mostMore is the largest number of further pieces that is worth naming.
const mostMore = 60

// A Season is what readings of one load come to. All moistures but the limit are on the
// dry basis.
type Season struct {
	Pieces   int      `json:"pieces"`
	Readings int      `json:"readings"`
	Mean     Moisture `json:"mean"` // of the pieces' means
	// Spread is the standard deviation between pieces, in points of dry-basis
	// moisture: a statistic; 0 for one piece.
	Spread  float64  `json:"spread_points"`
	Driest  Moisture `json:"driest"`
	Wettest Moisture `json:"wettest"`
	Limit   Moisture `json:"limit"`
	// AtMost tells that the limit itself is dry enough.
	AtMost bool `json:"at_most,omitempty"`
	// Bound is the one-sided 95 % bound of the load's mean, towards the limit:
	// above the mean where that is below it; nil for one piece.
	Bound *Moisture `json:"bound,omitempty"`
	// Accuracy is how far the meters may be out either way, in points of dry-basis
	// moisture: a statistic; it is in the bound. 0 for seasons judged before it was.
	Accuracy float64 `json:"accuracy_points,omitempty"`
	Verdict  Verdict `json:"verdict"`
	// More is how many more pieces like these would settle it, 0 where it is
	// settled or where more pieces would not help.
	More  int            `json:"more"`
	Notes []measure.Text `json:"notes,omitempty"`
}

// Judge works out what readings show against a limit. Frozen wood read with a meter
// is refused. The error is a *measure.InputError naming the reading.
func Judge(readings []Reading, limit Limit) (Season, error) {
	if err := check(readings, limit.Moisture); err != nil {
		return Season{}, err
	}
	j := judging{limit: limit, season: Season{Readings: len(readings), Limit: limit.Moisture, AtMost: limit.AtMost}}
	j.gather(readings)
	j.judge()
	j.note(readings)
	return j.season, nil
}

// judging is the working of one Season, in percent on the dry basis.
type judging struct {
	season Season
	pieces []float64
	mean   float64
	spread float64
	limit  Limit
	low    float64 // how far meters may read too low for the wood's temperature
	high   float64 // and how far too high
	out    float64 // how far meters may be out either way by themselves
	sound  bool    // the readings may show wood to be below the limit
}

func (j *judging) gather(readings []Reading) {
	sums, counts := map[int]float64{}, map[int]int{}
	var order []int
	driest, wettest := math.Inf(1), math.Inf(-1)
	j.sound = true
	for _, r := range readings {
		if counts[r.Piece] == 0 {
			order = append(order, r.Piece)
		}
		x := r.corrected()
		sums[r.Piece] += x
		counts[r.Piece]++
		driest, wettest = math.Min(driest, x), math.Max(wettest, x)
		low, high := r.meterError()
		j.low, j.high = j.low+low/float64(len(readings)), j.high+high/float64(len(readings))
		j.out += r.accuracy() / float64(len(readings))
		j.sound = j.sound && (r.FreshFace || r.Method == OvenDrying)
	}
	for _, piece := range order {
		j.pieces = append(j.pieces, sums[piece]/float64(counts[piece]))
	}
	j.mean, j.spread = spreadOf(j.pieces)
	j.season.Pieces, j.season.Spread, j.season.Accuracy = len(j.pieces), j.spread, j.out
	j.season.Mean, j.season.Driest, j.season.Wettest = fromDry(j.mean), fromDry(driest), fromDry(wettest)
}

// meterError is how far the reading may be too low or too high for the wood's temperature,
// in points: cold wood reads low.
func (r Reading) meterError() (low, high float64) {
	if r.Method == OvenDrying {
		return 0, 0
	}
	t := justThawed
	if r.Temperature != nil {
		t = r.Temperature.InCelsius()
	}
	switch off := pointsPerDegree * (t - meterSetAt); {
	case t < harmlessLow:
		return -off, 0
	case t > harmlessHigh:
		return 0, off
	}
	return 0, 0
}

func spreadOf(x []float64) (mean, deviation float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	if len(x) < 2 {
		return mean, 0
	}
	sum := 0.0
	for _, v := range x {
		sum += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(sum / float64(len(x)-1))
}

func (j *judging) judge() {
	n := len(j.pieces)
	s := &j.season
	s.Verdict = Neither
	if n > 1 {
		bound := j.bound(n)
		kept := fromDry(bound)
		s.Bound = &kept
		switch {
		case j.over() && bound > j.limit.dryPercent():
			s.Verdict = Above
		case !j.over() && j.limit.keeps(bound) && j.sound && n >= FewestPieces:
			s.Verdict = Below
		}
	}
	if s.Verdict == Neither && (j.sound || j.over()) {
		s.More = j.more(n)
	}
}

// over tells whether the mean is above the limit.
func (j *judging) over() bool { return j.mean > j.limit.dryPercent() }

// bound is the mean's one-sided 95 % bound of n such pieces, on the limit's side, with all
// that the meter itself may be out: more pieces don't make that smaller.
func (j *judging) bound(n int) float64 {
	spread := math.Max(j.spread, leastSpread)
	if len(j.pieces) < 2 {
		spread = usualSpread
	}
	reach := student95(n-1) * spread / math.Sqrt(float64(n))
	if j.over() {
		return j.mean - reach - j.high - j.out
	}
	return j.mean + reach + j.low + j.out
}

// more is the fewest further pieces that would settle it if they lie as these do, 0
// where mostMore would not.
func (j *judging) more(n int) int {
	for more := 1; more <= mostMore; more++ {
		all := n + more
		settledAbove := j.over() && j.bound(all) > j.limit.dryPercent()
		settledBelow := !j.over() && j.limit.keeps(j.bound(all)) && all >= FewestPieces
		if all > 1 && (settledAbove || settledBelow) {
			return more
		}
	}
	return 0
}

// note says what a reader of the readings must know.
func (j *judging) note(readings []Reading) {
	var outside, wet, unread, usual, uncorrected bool
	for _, r := range readings {
		meter := r.Method != OvenDrying
		outside = outside || meter && !r.FreshFace
		wet = wet || meter && r.Moisture.dryPercent() > saturation
		unread = unread || meter && r.Temperature == nil
		usual = usual || meter && r.Accuracy == nil
		uncorrected = uncorrected || meter && r.Correction == nil
	}
	add := func(key string, args ...any) { j.season.Notes = append(j.season.Notes, measure.Say(key, args...)) }
	if outside {
		add("Not every reading is of a freshly split face: the outside is drier than the inside, so this can’t show that the wood is below the limit.")
	}
	if wet {
		add("Above about 30 % a meter only says that the wood is wet, not how wet.")
	}
	switch {
	case unread:
		add("The wood’s temperature was not read. Cold wood reads low: the bound allows for %.1f points. Read it, or bring the pieces indoors first.", j.low)
	case j.low+j.high != 0:
		add("The wood was far from 20 °C: the bound allows for %.1f points.", j.low+j.high)
	}
	if usual {
		add("The meter’s own accuracy is taken as %.1f points either way, which is common practice. If its manual says otherwise, enter that.", j.out)
	}
	if uncorrected {
		add("Not corrected for the species: a meter is set for one kind of wood. If its manual gives a correction, enter it.")
	}
	if j.season.Verdict == Neither && j.season.More == 0 && j.sound {
		add("The mean lies too near the limit for %d more pieces to settle it.", mostMore)
	}
	if j.season.Pieces < FewestPieces {
		add("Fewer than %d pieces can’t speak for a load: take them from top, middle and bottom.", FewestPieces)
	}
}

// check refuses readings that cannot be judged.
func check(readings []Reading, limit Moisture) error {
	if len(readings) == 0 {
		return &measure.InputError{Field: "readings", Code: "missing", Reason: measure.Say("no reading was given"),
			Accepts: measure.Say("at least one reading")}
	}
	if len(readings) > MaxReadings {
		return tooMany()
	}
	if limit.basis != Dry && limit.basis != Wet {
		return noBasis("")
	}
	for _, r := range readings {
		if err := r.check(); err != nil {
			return err
		}
	}
	return nil
}

func (r Reading) check() error {
	if r.Moisture.basis != Dry && r.Moisture.basis != Wet {
		return noBasis("")
	}
	if r.Piece < 1 {
		return &measure.InputError{Field: "readings", Code: "out-of-range", Reason: measure.Say("pieces are numbered from 1"),
			Accepts: measure.Say("1 or more")}
	}
	if _, err := ParseMethod(string(r.Method)); err != nil {
		return err
	}
	if r.Method != OvenDrying && r.Temperature != nil && *r.Temperature <= 0 {
		return &measure.InputError{Field: "temperature", Code: "frozen", Got: r.Temperature.String(),
			Reason:  measure.Say("frozen wood can’t be read with a meter"),
			Accepts: measure.Say("readings of wood above freezing: let some pieces thaw through, then split and read them")}
	}
	return nil
}
