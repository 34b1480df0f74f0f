package job

import (
	"slices"

	"golang.org/x/text/unicode/norm"

	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

var postFields = []field[Post]{
	nameField("newel", "newel", "the newel that stands there", func(p *Post) *Ref { return &p.Newel }),
	wordField("foot", "how it is fixed: on a plate, bolted through the framing, with lag screws into a stringer or joist, let into the floor", []string{"plate", "bolted", "lagged", "let in"}, func(p *Post) *Text { return &p.Foot }),
	lengthsField("rows", "how far below what it stands on each row of its bolts or lag screws is, the upper first, as in [2 1/2, 7 1/2]", func(p *Post) *[]Measure { return &p.Rows }),
	lengthField("solid", "of one with lag screws: how thick the joist, stringer or blocking is that they go into, pieces tight together as one; thread that comes out behind holds nothing", func(p *Post) *Measure { return &p.Solid }),
	lengthField("bears", "of one with lag screws: how far below the floor the upper edge of the wood is that it bears against when it is pushed inward; 0 where the floor's own edge does", func(p *Post) *Measure { return &p.Bears }),
	lengthField("notch", "how deep its foot is notched from the inside, to stand over the edge; 0 where it is not; where absent by the edge's readings, back and overhang", func(p *Post) *Measure { return &p.Notch }),
	nameField("with", "fixing", "the plate, bolt or lag screw at its foot, where another than the library's way; one with a rating of its maker's is screened by it", func(p *Post) *Ref { return &p.With }),
	lengthField("deep", "how far its foot goes below the floor: a reading to take for one that is let in, bolted or lagged; of one on a plate nothing where absent", func(p *Post) *Measure { return &p.Deep }),
	flagField("stays", "whether it stands there already and stays; where absent it does if the guard of every run that comes to it stays", func(p *Post) *Flag { return &p.Stays }),
	lengthField("off", "how much is taken off its foot, as bought, before it is set", func(p *Post) *Measure { return &p.Off }),
	lengthField("top", "how high its top is to be above what it stands on: what stands over that is sawn off. As bought where absent; asked for where a square top would stand more than a hand (100 mm, or 4 in; common practice, no source) over what its rails need", func(p *Post) *Measure { return &p.Top }),
	{"turn", "left or right and degrees, as in left 90; or straight; or a list of them", "how one turns there, seen from above, coming along the first of its runs in the job and leaving along the second; in a list, along the third as well", nil, func(d *decoder, n *source.Node, p *Post) {
		for i, item := range d.items(n) {
			if i == 0 {
				p.Turn = d.turn(item)
				continue
			}
			p.Then = append(p.Then, d.turn(item))
		}
		if n.Blank() {
			p.Turn.At = n.At
		}
	}},
	textField("note", "anything else about it", func(p *Post) *Text { return &p.Note }),
}

var toleranceFields = []field[Tolerance]{
	lengthField("mark", "marking error of one centre", func(t *Tolerance) *Measure { return &t.Mark }),
	lengthField("drill", "drilling error of one centre", func(t *Tolerance) *Measure { return &t.Drill }),
	lengthField("width", "how far under its nominal width a baluster may be", func(t *Tolerance) *Measure { return &t.Width }),
	lengthField("season", "how much a baluster's width shrinks over the year; where absent the book says that the season is not counted", func(t *Tolerance) *Measure { return &t.Season }),
}

func toleranceField[T any](doc string, at func(*T) *Tolerance) field[T] {
	return mapField("tolerance", doc, toleranceFields, at)
}

var finishesField = field[Job]{
	key: "finishes", form: "keys and values", doc: "the finish of each group of parts",
	sub: []Key{
		{"balusters", "the name of a finish", "balusters", nil},
		{"newels", "the name of a finish", "newels", nil},
		{"handrail", "the name of a finish", "handrail and its fillets", nil},
		{"shoe", "the name of a finish", "shoe and its fillets", nil},
	},
	set: func(d *decoder, n *source.Node, j *Job) {
		if n.Blank() {
			return
		}
		if n.Kind != source.Map {
			d.problem(n, "write {balusters: , handrail: }", "want keys and values for finishes, found %s", shape(n))
			return
		}
		for _, group := range FinishGroups {
			if v := n.Get(group); v != nil {
				if t := d.text(v, "the name of a finish"); t.Given {
					j.Finishes = append(j.Finishes, FinishUse{Group: group, Finish: t})
				}
			}
		}
		for _, e := range n.Entries {
			if !slices.Contains(FinishGroups, e.Key) {
				d.unknown(e.At, e.Key, "key", "finishes", FinishGroups)
			}
		}
	},
}

var postsField = field[Job]{
	key: "posts", form: "keys and values", doc: "the posts of the job: a name of your own, and below it",
	sub: keysOf(postFields),
	set: func(d *decoder, n *source.Node, j *Job) {
		if n.Blank() {
			return
		}
		if n.Kind != source.Map {
			d.problem(n, "write the name of a post, and below it newel: and the newel that stands there", "want keys and values for posts, found %s", shape(n))
			d.noPosts = true
			return
		}
		alike := map[string]bool{}
		for _, e := range n.Entries {
			p := Post{Name: e.Key, At: e.At}
			if e.Key == "wall" || e.Key == "baseboard" || e.Key == "none" {
				d.at(e.At, len(e.Key), "give the post another name", "a post cannot be called %q, that word is taken", e.Key)
			}
			looks := norm.NFC.String(p.Name)
			if alike[looks] {
				d.at(e.At, len([]rune(e.Key)), "give one of them another name; one has its accents as characters of their own", "two posts are named %q: they look alike, and are not the same", clip(e.Key))
			}
			alike[looks] = true
			if !e.Value.Blank() {
				decode(d, e.Value, "a post", postFields, &p)
			}
			j.Posts = append(j.Posts, p)
		}
	},
}

var jobFields = append([]field[Job]{
	textField("title", "name on the cover", func(j *Job) *Text { return &j.Title }),
	textField("client", "for whom", func(j *Job) *Text { return &j.Client }),
	textField("place", "where the work is", func(j *Job) *Text { return &j.Place }),
	dateField("measured", "day of measuring", func(j *Job) *Text { return &j.Measured }),
	textField("measured-by", "who measured", func(j *Job) *Text { return &j.MeasuredBy }),
	lengthField("division", "marks and cuts are rounded to this; the shop's where absent", func(j *Job) *Measure { return &j.Division }),
	nameField("rules", "rule set", "what the guard is judged by; ask the building department", func(j *Job) *Ref { return &j.RulesName }),
	lengthField("drop", "from the floor as it is now down to the floor or grade below", func(j *Job) *Measure { return &j.Drop }),
	heightField("top of the handrail above the finished floor, for runs that don't say", func(j *Job) *Height { return &j.Height }),
	wholeField("built", "year the house was built", 1000, 2999, func(j *Job) *Whole { return &j.Built }),
	wholeField("surfacing", "year of the flooring and wall surfacing that will be disturbed", 1000, 2999, func(j *Job) *Whole { return &j.Surfacing }),
	flagField("children", "whether small children live or visit there", func(j *Job) *Flag { return &j.Children }),
	flagField("for-pay", "whether the work is done for pay", func(j *Job) *Flag { return &j.ForPay }),
	postsField,
	finishesField,
	placedList("panels", "test panels that the client has signed", panelFields, func(j *Job) *[]Panel { return &j.Panels }, func(p *Panel) *source.Pos { return &p.At }),
	placedList("used", "what was really put on, for whoever touches it up later", usedFields, func(j *Job) *[]Used { return &j.Used }, func(u *Used) *source.Pos { return &u.At }),
	dateField("wanted", "day by which the goods are to be there; the day to order by is reckoned back from it", func(j *Job) *Text { return &j.Wanted }),
	mapField("calendar", "when the work is done", calendarFields, func(j *Job) *Calendar { return &j.Calendar }),
	doneField,
	mapField("price", "the price, and what the client sees of it", pricingFields, func(j *Job) *Pricing { return &j.Price }),
	mapField("air", "the air of the room, for how its wood moves over the year", climateFields, func(j *Job) *Climate { return &j.Climate }),
	mapField("floor", "the floor that the guard is fixed to, for its screws", floorWoodFields, func(j *Job) *FloorWood { return &j.Floor }),
	ratioField("load-duration", "load duration factor C_D that fixings are screened with; 1.0 where absent, for no code text fixes it for guards; up to 1.6", []string{""}, func(j *Job) *Ratio { return &j.Duration }),
	toleranceField("what may go wrong at each baluster, over the shop's settings", func(j *Job) *Tolerance { return &j.Tolerance }),
	toComeField("floor that is still to be laid, for runs that don't say", func(j *Job) *ToCome { return &j.ToCome }),
}, append(partFields(", for runs that name none", func(j *Job) *Parts { return &j.Defaults }),
	nameField("rosette", "rosette", "rosette between rail and wall, or none, for ends that name none", func(j *Job) *Ref { return &j.Defaults.Rosette }))...)

// Or is the tolerance itself, filled up key by key from the other.
func (t Tolerance) Or(other Tolerance) Tolerance {
	return Tolerance{t.Mark.Or(other.Mark), t.Drill.Or(other.Drill), t.Width.Or(other.Width), t.Season.Or(other.Season)}
}

// division is what marks and cuts of this job are rounded to.
func (j *Job) division() Measure {
	if j.System == length.Millimetres {
		return j.Division.Or(j.Shop.DivisionM)
	}
	return j.Division.Or(j.Shop.Division)
}
