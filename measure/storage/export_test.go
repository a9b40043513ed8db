package storage

import "wellstowed/measure/wood"

// ParseMass and ParseArea read what stands in a form, with no unit of its own.
func ParseMass(s string) (wood.Mass, error) { return parseMassIn(s, 0) }

// ParseArea reads a floor area.
func ParseArea(s string) (Area, error) { return parseAreaIn(s, 0) }
