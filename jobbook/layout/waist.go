package layout

// waistless reports that the run's balusters came in another width than the part's file has, and nobody gauged their waist: what passes between them rests on a turning that is not theirs.
func (b *builder) waistless() bool {
	return b.r.Baluster != nil && !b.r.Baluster.WaistOpen.IsZero()
}

// waistOpen asks for the waist of what came.
func (b *builder) waistOpen() {
	if part := b.r.Baluster; b.waistless() {
		b.needIn(part.WaistOpen.File, "the thinnest turned place of "+or(part.Title.Text, part.Name)+" as it came: it is not as wide as its file has it; gauge several, write the least", "items: {part: "+part.Name+", waist: }", "whether the openings pass; until then the turning counts as thinned with the foot", part.WaistOpen)
	}
}
