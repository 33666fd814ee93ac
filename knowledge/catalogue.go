package knowledge

// Catalogue is everything known, validated: every reference between records
// resolves, so look-ups by an id taken from the catalogue can't fail.
type Catalogue struct {
	Sources     []Source
	Materials   []Material
	Cores       []Core
	Tubing      []Tube
	Yarns       []Yarn
	Shafts      []Shaft
	Adhesives   []Adhesive
	Solvents    []Solvent
	Tools       []Tool
	Instruments []Instrument
	Grips       []Grip
	Dynamics    []Dynamic // softest first
	Steps       []Step    // by Order
	Cautions    []Caution
	Terms       []Term
	Words       []Word
	Lessons     []Lesson
	Questions   []Question
	Limits      Limits
}
