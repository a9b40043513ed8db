package words

// FormUnits says how to write readings on the form.
func (p *Printer) FormUnits() string {
	if p.metric() {
		return p.say("Write centimetres unless you name another unit.")
	}
	return p.say("Write inches unless you name another unit.")
}

// FormEnds says how to write the ends of a row on the form.
func (p *Printer) FormEnds() string {
	return p.say("Ends: U upright; S shouldered, drop and run; T tapered, run; C cribbed, run. Gap: width × height of one that would take a piece.")
}
