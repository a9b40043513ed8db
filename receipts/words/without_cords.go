package words

import "wellstowed/measure/rules"

// withoutCords is a sentence as it is said under rules of sale that know no cord,
// where it speaks of one; any other stays as it is.
func (p *Printer) withoutCords(key string) string {
	if p.unit == "" || p.unit == rules.Cord {
		return key
	}
	if other, found := keysWithoutCords()[key]; found {
		return other
	}
	return key
}

func keysWithoutCords() map[string]string {
	return map[string]string{
		"wood, cords": "wood, in 128 ft³ stacked",
		"As they say it: 2 cords seasoned oak 16 inch.":                                           "As they say it: 128 cu ft stacked, seasoned oak, 16 inch.",
		"Solid wood in a cord: %s to %s.":                                                         "Solid wood in 128 ft³ stacked: %s to %s.",
		"A cord is taken to hold 80 ft³ of solid wood, and 70 to 90 ft³ for the range.":           "128 ft³ stacked are taken to hold 80 ft³ of solid wood, and 70 to 90 ft³ for the range.",
		"Heat in a cord of this wood at 20 %% dry basis: %d to %d million Btu.":                   "Heat in 128 ft³ of this wood, stacked, at 20 %% dry basis: %d to %d million Btu.",
		"Taken at the most it may weigh: green, %s solid in a cord, and 15 %% for bark and snow.": "Taken at the most it may weigh: green, %s solid in 128 ft³ stacked, and 15 %% for bark and snow.",
	}
}
