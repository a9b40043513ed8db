// Package wood is the arithmetic of firewood as a material: what a species weighs
// at a moisture, the heat in it, the moisture of the air and of drying wood, and
// what moisture readings can show.
//
// The equations are those of the Wood Handbook (USDA Forest Products Laboratory,
// FPL-GTR-282, 2021, chapter 4), read second-hand. Moisture always carries its
// basis: on the dry basis it is water over ovendry wood, on the wet basis water
// over the whole.
package wood
