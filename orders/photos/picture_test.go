package photos

import "testing"

// No bytes make reading a photo fail but by a fault; what is taken has a copy to show.
func FuzzReadPhoto(f *testing.F) {
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x10Exif\x00\x00MM\x00\x2a"))
	f.Add([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x02"))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, faults := read(b)
		if len(faults) == 0 && (len(p.Shown) == 0 || p.width < 1 || p.width > maxSide) {
			t.Fatalf("taken with %d by %d pixels and a copy of %d bytes", p.width, p.height, len(p.Shown))
		}
	})
}
