package job

import "balustrade/jobbook/source"

var openingFields = []field[SurveyOpening]{
	textField("where", "where it was read", func(o *SurveyOpening) *Text { return &o.Where }),
	lengthField("read", "the widest that a ball passes there, or the clear gap", func(o *SurveyOpening) *Measure { return &o.Read }),
}

var memberFields = []field[SurveyMember]{
	textField("what", "balusters, rail, newels, shoe, fillets, ...", func(m *SurveyMember) *Text { return &m.What }),
	wholeField("count", "how many", 0, 100_000, func(m *SurveyMember) *Whole { return &m.Count }),
	lengthField("wide", "width across the flats, or diameter", func(m *SurveyMember) *Measure { return &m.Wide }),
	lengthField("deep", "the other side of an oblong section; as wide where absent", func(m *SurveyMember) *Measure { return &m.Deep }),
	lengthField("long", "length of one", func(m *SurveyMember) *Measure { return &m.Long }),
	wordField("section", "square where absent", []string{"square", "round"}, func(m *SurveyMember) *Text { return &m.Section }),
}

var photoFields = []field[SurveyPhoto]{
	textField("file", "the JPEG or PNG, from the folder of this file; one that is still to be taken where blank", func(p *SurveyPhoto) *Text { return &p.File }),
	textField("shows", "what is to be seen on it, in words that do without it", func(p *SurveyPhoto) *Text { return &p.Shows }),
}

// Coatings are what an old guard can be covered with. All but bare count as painted for lead.
var Coatings = []string{"paint", "varnish", "shellac", "bare", "unknown"}

var surveyFields = []field[Survey]{
	textField("title", "name on the page", func(s *Survey) *Text { return &s.Title }),
	textField("of", "what was looked at", func(s *Survey) *Text { return &s.Of }),
	lengthField("height", "top of the old handrail above the floor", func(s *Survey) *Measure { return &s.Height }),
	lengthField("drop", "from the walking surface down; the job's where absent", func(s *Survey) *Measure { return &s.Drop }),
	listField("openings", "gaps of the old guard", openingFields, func(s *Survey) *[]SurveyOpening { return &s.Openings }),
	flagField("loose", "whether it gives when pushed", func(s *Survey) *Flag { return &s.Loose }),
	wordField("coated", "what the old parts are covered with", Coatings, func(s *Survey) *Text { return &s.Coated }),
	placedList("photos", "photographs of what was found", photoFields, func(s *Survey) *[]SurveyPhoto { return &s.Photos }, func(p *SurveyPhoto) *source.Pos { return &p.At }),
	flagField("removed", "whether the old guard is taken out; yes where absent", func(s *Survey) *Flag { return &s.Removes }),
	{"members", "a list", "the old parts, counted for their coated surface", keysOf(memberFields), func(d *decoder, n *source.Node, s *Survey) {
		if n.Blank() {
			return
		}
		if n.Kind != source.List {
			d.problem(n, "write a list: - {what: balusters, count: 18, wide: 1 1/4, long: 36}", "want a list for members, found %s", shape(n))
			return
		}
		for _, item := range n.Items {
			m := SurveyMember{At: item.At}
			decode(d, item, "members", memberFields, &m)
			s.Members = append(s.Members, m)
		}
	}},
}
