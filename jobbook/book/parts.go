package book

import (
	"balustrade/jobbook/job"
	"balustrade/jobbook/profile"
)

// part is a part that the job uses, of any kind, as the pages show it.
type part struct {
	kind    string
	origin  job.Origin
	title   string
	species job.Text
	sizes   pairs
	profile *profile.Profile
	users   []string // runs and posts that it is used for
}

func (p *part) anchor() string { return "part-" + p.kind + "-" + anchor(p.origin.Name) }

// partTitle is a part's title, or its name.
func partTitle(t job.Text, o job.Origin) string {
	if t.Text != "" {
		return t.Text
	}
	return capital(o.Name)
}

// parts lists the parts that the job uses, each once: newels first, then from the floor up.
func (b *book) parts() []*part {
	var list []*part
	use := func(kind string, o job.Origin, title, species job.Text, user string) *part {
		for _, p := range list {
			if p.kind == kind && p.origin.File == o.File && p.origin.Name == o.Name {
				if len(p.users) == 0 || p.users[len(p.users)-1] != user {
					p.users = append(p.users, user)
				}
				return nil
			}
		}
		p := &part{kind: kind, origin: o, title: partTitle(title, o), species: species, users: []string{user}}
		p.sizes.class = "facts"
		list = append(list, p)
		return p
	}
	size := func(p *part, name string, m job.Measure) {
		if m.Given || !m.At.IsZero() {
			p.sizes.add(name, b.read(m))
		}
	}
	bit := func(p *part, name string, m job.Measure) { // as the fixings page and the set-ups have it
		if !m.Given {
			size(p, name, m)
			return
		}
		p.sizes.add(name, b.recorded(m.At, b.bitPlain(m.Length)))
	}
	for i := range b.job.Posts {
		post := &b.job.Posts[i]
		if n := post.Part; n != nil {
			if p := use("newel", n.Origin, n.Title, n.Species, "post "+post.Name); p != nil {
				if n.Sized {
					p.profile = &n.Profile
				}
				size(p, "long as bought", n.Long)
				size(p, "wide", n.Wide)
			}
		}
	}
	plow := func(p *part, plow job.Plow) {
		if plow.Wide.Given || plow.Deep.Given {
			p.sizes.add("plow", say("%s wide, %s deep", b.read(plow.Wide), b.read(plow.Deep)))
		}
	}
	for _, r := range b.job.Runs {
		user := b.runTitle(r.Name)
		if x := r.Shoe; x != nil {
			if p := use("shoe", x.Origin, x.Title, x.Species, user); p != nil {
				size(p, "wide", x.Wide)
				size(p, "high", x.High)
				plow(p, x.Plow)
			}
		}
		if x := r.Baluster; x != nil {
			if p := use("baluster", x.Origin, x.Title, x.Species, user); p != nil {
				if x.Sized {
					p.profile = &x.Profile
				}
				size(p, "long as bought", x.Long)
				size(p, "wide at the foot", x.Wide)
				p.sizes.add("cut at", b.words(x.Trim))
				p.sizes.add("top end", b.words(x.Top))
				p.sizes.add("bottom end", b.words(x.Bottom))
				size(p, "pin, wide", x.Pin.Wide)
				size(p, "pin, long", x.Pin.Long)
				size(p, "let in", x.LetIn)
			}
		}
		for _, x := range r.Fillets() {
			if p := use("fillet", x.Origin, x.Title, x.Species, user); p != nil {
				size(p, "wide", x.Wide)
				size(p, "thick", x.Thick)
			}
		}
		rails := []*job.Handrail{r.Handrail}
		if r.Stair != nil {
			rails = append(rails, r.Stair.WallRail.Part)
		}
		for _, x := range rails {
			if x == nil {
				continue
			}
			if p := use("handrail", x.Origin, x.Title, x.Species, user); p != nil {
				size(p, "wide", x.Wide)
				size(p, "high", x.High)
				plow(p, x.Plow)
				size(p, "girth", x.Girth)
				p.sizes.add("section", b.words(x.Section))
				size(p, "across", x.Across)
				size(p, "finger recess begins below the top", x.Recess.Starts)
				size(p, "is deep", x.Recess.Deep)
				size(p, "is that deep below the widest part", x.Recess.Within)
				size(p, "stays so deep", x.Recess.Kept)
				size(p, "down to, below the top", x.Recess.To)
				size(p, "width above it", x.Recess.Wide)
			}
		}
		if x := r.Bolt; x != nil {
			if p := use("bolt", x.Origin, x.Title, job.Text{}, user); p != nil {
				size(p, "diameter", x.Wide)
				size(p, "long", x.Long)
				size(p, "into the post", x.InPost)
				bit(p, "pilot in the post", x.Pilot)
				bit(p, "bore in the rail", x.Bore)
				bit(p, "bore from below", x.Access)
				size(p, "its depth", x.AccessUp)
				size(p, "its middle from the rail's end", x.Reach)
			}
		}
		for _, e := range []job.End{r.From, r.To} {
			if x := e.Plate; x != nil {
				if p := use("rosette", x.Origin, x.Title, x.Species, user); p != nil {
					size(p, "wide", x.Wide)
					size(p, "stands off the wall", x.Thick)
				}
			}
		}
	}
	return list
}

// runTitle is a run's title by its name, or the name.
func (b *book) runTitle(name string) string {
	if r := b.run(name); r != nil && r.Title != "" {
		return r.Title
	}
	for _, r := range b.job.Runs {
		if r.Name == name && r.Title.Text != "" {
			return r.Title.Text
		}
	}
	return capital(name)
}
