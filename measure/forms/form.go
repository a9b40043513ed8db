// Package forms says what each kind of stack asks for, so that a page can be drawn from it,
// and as a JSON Schema.
package forms

import (
	"sync"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A Form is what one kind of stack asks for, so that a page can be drawn from it.
// Its fields are those of the tally document and no other.
type Form struct {
	Kind   string
	Title  measure.Text
	Groups []Group
}

// A Group is fields that stand together.
type Group struct {
	Title  measure.Text
	Fields []Field
}

// A Field is one reading of a form.
type Field struct {
	// Path is its place in the document, "[]" for what repeats:
	// "stack.rows[].heights[]".
	Path    string
	Label   measure.Text
	Hint    measure.Text // may be empty
	Type    FieldType
	Options []Option // of a choice
	Repeats []Repeat // one for each "[]" of Path, outermost first
	// Required tells that its parent in the document is not whole without it, where
	// Either and When leave it in place.
	Required bool
	// Either names a set of ways of saying one thing, of which a document has one;
	// the field belongs to the Ways named. Empty: it always stands.
	Either string
	Ways   []string
	// When is the choice that the field hangs on; zero: none.
	When    When
	Example stack.Reading // a value that is read, with its unit
}

// FieldType is what a field holds.
type FieldType string

// The types of field. A number and a count stand in the document as JSON numbers,
// all others as text.
const (
	LengthField   FieldType = "length"
	VolumeField   FieldType = "volume"
	QuantityField FieldType = "quantity"
	CountField    FieldType = "count"
	NumberField   FieldType = "number"
	ChoiceField   FieldType = "choice"
	TextField     FieldType = "text"
	DateField     FieldType = "date"
)

// An Option is one of the words a choice may have.
type Option struct {
	Value stack.Reading
	Label measure.Text
}

// A Repeat is how often a part of the document may stand.
type Repeat struct{ Min, Max int }

// A When is the choice at Path being one of Is.
type When struct {
	Path string
	Is   []stack.Reading
}

// Forms gives the form of every kind of stack, in the order of stack.Kinds. They are made
// once and belong to all: nobody changes them.
func All() []Form { return forms() }

var forms = sync.OnceValue(func() []Form {
	own := map[string]func() Form{"rows": rowsForm, "load": loadForm, "heap": heapForm, "bin": binForm, "round": roundForm, "packaged": packagedForm}
	var forms []Form
	for _, kind := range stack.Kinds() {
		f := own[kind]()
		f.Kind = kind
		f.Groups = append(f.Groups, commonGroups(kind)...)
		forms = append(forms, f)
	}
	return forms
})

func lengthOf(path string, example stack.Reading, label string) Field {
	return Field{Path: path, Label: measure.Say(label), Type: LengthField, Example: example}
}

func textOf(path string, kind FieldType, example stack.Reading, label string) Field {
	return Field{Path: path, Label: measure.Say(label), Type: kind, Example: example}
}

// chosenFrom takes value and label in turn.
func chosenFrom(path, label string, words ...string) Field {
	f := Field{Path: path, Label: measure.Say(label), Type: ChoiceField, Example: stack.Reading(words[0])}
	for i := 0; i+1 < len(words); i += 2 {
		f.Options = append(f.Options, Option{stack.Reading(words[i]), measure.Say(words[i+1])})
	}
	return f
}

func (f Field) must() Field { f.Required = true; return f }

func (f Field) hint(key string) Field { f.Hint = measure.Say(key); return f }

func (f Field) times(repeats ...Repeat) Field { f.Repeats = repeats; return f }

func (f Field) when(path string, is ...stack.Reading) Field { f.When = When{path, is}; return f }

func (f Field) either(set string, ways ...string) Field { f.Either, f.Ways = set, ways; return f }

// commonGroups are the fields of every tally, those of one kind taken out that it
// has no use for.
func commonGroups(kind string) []Group {
	reading := Group{Title: measure.Say("How it was read"), Fields: []Field{
		lengthOf("tape", "1/4 in", "Smallest division read"),
		chosenFrom("rounded", "Between two marks, which one is written down?", string(stack.RoundNearest), "The nearest mark", string(stack.RoundDown), "The mark below"),
		chosenFrom("tape_made", "What is the tape made of?", string(stack.SteelTape), "Steel", string(stack.ClothTape), "Cloth or fibreglass"),
		chosenFrom("top", "How the top was judged", string(stack.ByEye), "By eye", string(stack.Straightedge), "With a straightedge").
			hint("Left open, it counts as by eye."),
		chosenFrom("stowed", "Stowing", string(stack.StowingChecked), "Looked at", string(stack.StowingCounted), "Gaps counted").
			hint("Looked at: pieces parallel and touching, no gap that takes a piece, cribs restacked."),
		Field{Path: "gaps.count", Label: measure.Say("Gaps that take a stick half as thick as an average piece"), Type: CountField, Example: "5", Required: true}.
			when("stowed", stack.Reading(stack.StowingCounted)),
		Field{Path: "gaps.pieces", Label: measure.Say("Pieces they were looked for among"), Type: CountField, Example: "80", Required: true}.
			when("stowed", stack.Reading(stack.StowingCounted)),
	}}
	raised := lengthOf("raised", "2 in", "Taken off every height").hint("What the heights include below the wood: a pallet, a runner.")
	switch kind {
	case "packaged":
	case "load":
		reading.Fields = append(reading.Fields, raised.either(fillSet, fillHeights, fillGrid))
	default:
		reading.Fields = append(reading.Fields, raised)
	}
	reading.Fields = append(reading.Fields, stackedFields()...)
	return []Group{saleGroup(), reading, dryingGroup()}
}

func saleGroup() Group {
	return Group{Title: measure.Say("The sale"), Fields: []Field{
		textOf("sold", QuantityField, "1 cord", "What was sold"),
		chosenFrom("by", "Who reads", string(stack.Buyer), "Buyer", string(stack.Seller), "Seller", string(stack.Inspector), "Inspector"),
		textOf("apart", TextField, "none", "Wood of this delivery not in this stack").hint("Taken in, burned, left in a heap: “none”, or how much."),
		{Path: "look", Label: measure.Say("Which check of this delivery this is"), Type: CountField, Example: "1"},
		textOf("loose_cord", VolumeField, "180 cu ft", "Loose cord").hint("Only where the rules of the sale define one."),
		textOf("confirmed[]", TextField, "row long stack.rows[0].length 96 ft", "Readings that were asked about and are as typed").times(Repeat{0, stack.MaxConfirmed}),
	}}
}

// stackedFields are whether the wood was stacked again since the check before.
func stackedFields() []Field {
	return []Field{
		chosenFrom("stacked", "Since the check before", string(stack.SameStack), "The same stack, read again", string(stack.StackedAgain), "The wood was stacked again").
			hint("Only from the second check of a delivery on."),
		chosenFrom("stacked_by", "Who stacked it again", string(stack.StackedAsBefore), "Whoever stacked it before", string(stack.Buyer), "The buyer",
			string(stack.Seller), "The seller", string(stack.Inspector), "An inspector", string(stack.StackedByOther), "Somebody else").when("stacked", stack.Reading(stack.StackedAgain)),
	}
}

func dryingGroup() Group {
	number := func(path, example, label string) Field {
		return Field{Path: path, Label: measure.Say(label), Type: NumberField, Example: stack.Reading(example)}
	}
	return Group{Title: measure.Say("How dry it is"), Fields: []Field{
		textOf("condition", TextField, "seasoned", "As it stands"),
		chosenFrom("sold_condition", "Sold as", string(stack.Green), "Green", string(stack.Seasoned), "Seasoned", string(stack.Dry), "Dry"),
		number("moisture.percent", "18", "Moisture, percent").must(),
		number("moisture.highest", "20", "At most, with the meter’s give or take"),
		chosenFrom("moisture.basis", "Percent of what", string(stack.DryBasis), "Of the dry weight", string(stack.WetBasis), "Of the weight as it is").must(),
		{Path: "moisture.pieces", Label: measure.Say("Pieces it was measured on"), Type: CountField, Example: "6", Required: true},
		textOf("moisture.method", TextField, "meter", "How it was measured").must(),
		number("shrinkage.percent", "13.7", "Shrinkage from green to oven-dry, percent").either("shrinkage", "percent"),
		number("shrinkage.basic_gravity", "0.56", "Basic specific gravity").either("shrinkage", "gravity"),
	}}
}

// pieceFields are a sample of pieces or a nominal length.
func pieceFields(path, set string, repeats ...Repeat) []Field {
	return []Field{
		lengthOf(path+".pieces[]", "16 in", "Piece lengths").hint("Pieces from all over, between the middles of the cut ends.").
			times(append(repeats, Repeat{0, stack.MaxPieces})...).either(set, "measured"),
		lengthOf(path+".nominal", "16 in", "Piece length as said, not measured").times(repeats...).either(set, "nominal"),
	}
}

// windowFields are the part of the face in which pieces were counted.
func windowFields(when When) []Field {
	fields := []Field{
		lengthOf("stack.window.width", "2 ft", "Part of the face counted: width").must(),
		lengthOf("stack.window.height", "2 ft", "Its height").must(),
		{Path: "stack.window.pieces", Label: measure.Say("Pieces in it"), Type: CountField, Example: "27", Required: true},
	}
	for i := range fields {
		fields[i].When = when
	}
	return fields
}
