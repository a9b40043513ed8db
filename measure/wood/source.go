package wood

import "wellstowed/measure"

// A Source is where figures come from, and how they were read.
type Source struct {
	What   string       `json:"what"`
	Where  string       `json:"where"`
	Status Status       `json:"status"`
	Said   measure.Text `json:"-"` // What for people
}

// Sources name where the figures of the table and the equations come from.
func Sources() []Source {
	list := []Source{
		{What: "Specific gravity and average green moisture", Status: SecondHand,
			Where: "USDA Forest Service, Research Note NRS-38 (Miles and Smith, 2009), as carried in the FIA table REF_SPECIES"},
		{What: "Green moisture of heartwood and sapwood, shrinkage", Status: Read,
			Where: "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), tables 4-1 and 4-3; some rows from memory, as marked"},
		{What: "Shrinkage, specific gravity and density at a moisture", Status: SecondHand,
			Where: "Wood Handbook, FPL-GTR-282 (2021), equations 4-9 and 4-11 to 4-14"},
		{What: "How dry wood gets in air", Status: SecondHand,
			Where: "Wood Handbook, FPL-GTR-282 (2021), equation 4-5"},
		{What: "Solid wood in 128 stacked cubic feet", Status: Derived,
			Where: "worked back from published tables of weights"},
		{What: "Heat of ovendry wood", Status: SecondHand,
			Where: "state university extension text: 8,600 Btu a pound"},
		{What: "Heat that steam takes away", Status: FromMemory,
			Where: "1,050 Btu a pound of water; hydrogen 6 % of dry wood"},
	}
	for i := range list {
		list[i].Said = measure.Say(list[i].What)
	}
	return list
}
