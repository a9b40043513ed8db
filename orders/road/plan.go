package road

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Plan is what goes on which vehicle on a day, as it is kept. No names are in it: who gets the
// wood and where is read from the orders whenever it is shown.
type Plan struct {
	Day     act.Date      `json:"day"`
	Version int64         `json:"version"`
	Trips   []PlannedTrip `json:"trips"`
	ByHand  bool          `json:"by_hand"` // changed by hand since it was arranged
	// Proven tells that it was found among all ways: see pack.
	Proven  bool      `json:"proven"`
	Changed time.Time `json:"changed"`
}

// A PlannedTrip is one trip of a vehicle; those of one vehicle are in the order they go.
type PlannedTrip struct {
	Vehicle string        `json:"vehicle" names:"program"`        // id
	Driver  string        `json:"driver,omitempty" names:"staff"` // empty: anybody
	Stops   []PlannedStop `json:"stops"`                          // in order
}

// A PlannedStop is wood of one order on one trip.
type PlannedStop struct {
	Order  string           `json:"order" names:"program"` // id
	Wood   measure.Quantity `json:"wood"`
	Loaded bool             `json:"loaded,omitempty"`
	// came tells that it was delivered: of an order's stops on a day the first ones were by the
	// loads of that day, and all were once nothing is left of it. It is worked out, not kept.
	came bool
}
