package road

import (
	"fmt"
	"math"

	"wellstowed/measure"
)

// A place is where something is, in radians (WGS 84).
type place struct{ latitude, longitude float64 }

// placeOf reads a place as it is kept, "44.051200,-72.203400"; false where none is.
func placeOf(kept string) (place, bool) {
	var latitude, longitude float64
	if _, err := fmt.Sscanf(kept, "%f,%f", &latitude, &longitude); err != nil {
		return place{}, false
	}
	return place{latitude * math.Pi / 180, longitude * math.Pi / 180}, true
}

// earthRadius is the mean radius of the earth, 6 371.0088 km (GRS 80, Moritz 1980, from memory).
const earthRadius = 6_371_008_800 * measure.Millimetre

// crow is the way between two places as the crow flies, on a sphere of the mean radius: within
// 0.6 % of that on the ellipsoid. It is haversine's formula, which stays exact for places
// near each other.
func crow(a, b place) measure.Length {
	south, east := math.Sin((b.latitude-a.latitude)/2), math.Sin((b.longitude-a.longitude)/2)
	h := south*south + math.Cos(a.latitude)*math.Cos(b.latitude)*east*east
	return measure.Length(math.RoundToEven(2 * math.Asin(math.Sqrt(min(h, 1))) * float64(earthRadius)))
}
