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

// FormSteps say how to measure a stack, a step a line.
func (p *Printer) FormSteps() []string {
	return []string{
		p.say("Stack the wood in rows first: pieces parallel, touching, no gap that would take a piece. Burn none of it yet."),
		p.say("Take ten pieces from all over and read their length."),
		p.say("Read the length of each row without its sloping or crossed ends; those go under ends."),
		p.say("Think of each row as five equal parts or more, and read the height at the middle of each."),
		p.say("Write each reading to the tape’s smallest mark, as it is read. Do not round."),
		p.say("Write what of the delivery is not in the stack, or none."),
	}
}
