package wood

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// A Status says how a figure came to be known.
type Status string

// The statuses of a figure.
const (
	Read       Status = "read"        // read in the source itself
	SecondHand Status = "second-hand" // read where another page quotes it
	FromMemory Status = "from memory"
	Derived    Status = "derived" // worked out here from other figures
)

// A Group is one of the two kinds of tree.
type Group string

// The groups.
const (
	Hardwood Group = "hardwood"
	Softwood Group = "softwood"
)

// A Species is a kind of wood with what is published of it: clear wood without
// bark, averages of many trees; single trees differ by about a tenth.
type Species struct {
	Name    string   `json:"name"`
	Aliases []string `json:"aliases,omitempty"` // what people also call it
	Group   Group    `json:"group"`
	// BasicGravity is ovendry mass over green volume, as a ratio to water.
	BasicGravity float64 `json:"basic_gravity"`
	// Gravity12 is ovendry mass over volume at 12 % moisture, dry basis, as a
	// ratio to water.
	Gravity12 float64 `json:"gravity_at_12_percent"`
	// Cited is the number by which the source names where it has gravity from.
	Cited         int    `json:"cited"`
	GravityStatus Status `json:"gravity_status"`
	// Green is the average moisture of a living stem.
	Green       Moisture `json:"green"`
	GreenStatus Status   `json:"green_status"`
	// GreenHeart and GreenSap are those of heartwood and sapwood, nil where
	// they are not tabulated.
	GreenHeart  *Moisture `json:"green_heartwood,omitempty"`
	GreenSap    *Moisture `json:"green_sapwood,omitempty"`
	PartsStatus Status    `json:"parts_status,omitempty"`
	// Shrinkage is the volume lost from green to ovendry, in percent of the
	// green volume: a ratio. Where it is not tabulated it is Derived.
	Shrinkage       float64 `json:"shrinkage_percent"`
	ShrinkageStatus Status  `json:"shrinkage_status"`
	Note            string  `json:"note,omitempty"`
}

//go:embed species.csv
var speciesFile string

// All gives every species in the table, hardwoods first, in the table's order.
func All() ([]Species, error) {
	all, err := table()
	return slices.Clone(all), err
}

// table is the table as read, once.
var table = sync.OnceValues(func() ([]Species, error) {
	rows, err := csv.NewReader(strings.NewReader(speciesFile)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("species.csv: %w", err)
	}
	all := make([]Species, 0, len(rows)-1)
	for i, row := range rows[1:] {
		s, err := speciesOf(row)
		if err != nil {
			return nil, fmt.Errorf("species.csv, line %d: %w", i+2, err)
		}
		all = append(all, s)
	}
	return all, nil
})

// The columns of species.csv.
const (
	nameColumn = iota
	aliasColumn
	groupColumn
	basicColumn
	gravity12Column
	citedColumn
	gravityStatusColumn
	greenColumn
	greenStatusColumn
	heartColumn
	sapColumn
	partsStatusColumn
	shrinkageColumn
	shrinkageStatusColumn
	noteColumn
)

func speciesOf(row []string) (Species, error) {
	in := cells{row: row}
	s := Species{
		Name: row[nameColumn], Group: Group(row[groupColumn]), Note: row[noteColumn],
		BasicGravity: in.number(basicColumn), Gravity12: in.number(gravity12Column), Cited: int(in.number(citedColumn)),
		GravityStatus: Status(row[gravityStatusColumn]),
		GreenStatus:   Status(row[greenStatusColumn]), PartsStatus: Status(row[partsStatusColumn]),
		GreenHeart: in.moisture(heartColumn), GreenSap: in.moisture(sapColumn),
	}
	if row[aliasColumn] != "" {
		s.Aliases = strings.Split(row[aliasColumn], ";")
	}
	if green := in.moisture(greenColumn); green != nil {
		s.Green = *green
	}
	s.Shrinkage, s.ShrinkageStatus = in.shrinkage(s.BasicGravity)
	return s, in.err
}

// cells reads one row and keeps the first fault.
type cells struct {
	row []string
	err error
}

func (c *cells) number(column int) float64 {
	x, err := strconv.ParseFloat(c.row[column], 64)
	if err != nil && c.err == nil {
		c.err = err
	}
	return x
}

func (c *cells) moisture(column int) *Moisture {
	if c.row[column] == "" {
		return nil
	}
	m, err := DryBasis(c.number(column))
	if err != nil && c.err == nil {
		c.err = err
	}
	return &m
}

// shrinkage is the tabulated figure, or 26.5 times basic gravity (Wood Handbook
// 2021, eq. 4-12).
func (c *cells) shrinkage(basic float64) (float64, Status) {
	if c.row[shrinkageColumn] == "" {
		return 26.5 * basic, Derived
	}
	return c.number(shrinkageColumn), Status(c.row[shrinkageStatusColumn])
}
