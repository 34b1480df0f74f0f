package book

import "encoding/json"

// planFormat names the form of plan.json. Within one number, properties are only ever added.
const planFormat = "balustrade-plan/1"

// The types below are plan.json, and its schema is made from them (data_schema_test.go): the tag doc describes a property, unit says what it is counted
// in, enum names its words (see schemaEnums). A property with omitempty is absent where there is nothing to say; none is ever null.

type dataPlan struct {
	Format       string            `json:"format" enum:"format" doc:"the form of this file; within one number, properties are only ever added" unit:"text"`
	Job          dataJob           `json:"job" doc:"whose plan this is, and how it is measured" unit:"none"`
	Traits       []string          `json:"traits" doc:"facts about the job that decide which steps and cautions it gets, such as wall-end or painted" unit:"text"`
	Runs         []dataRun         `json:"runs" doc:"every run of guard, in the order of the job" unit:"none"`
	Posts        []dataPost        `json:"posts" doc:"every post, in the order of the job, with the rails that meet it" unit:"none"`
	Above        dataAbove         `json:"above" doc:"the guard seen from above" unit:"none"`
	Takeoff      dataTakeoff       `json:"takeoff" doc:"what is cut and what is ordered" unit:"none"`
	Loads        dataLoads         `json:"loads" doc:"what the guard is screened for; nothing in it is a pass" unit:"none"`
	Finishing    dataFinishing     `json:"finishing" doc:"coated surfaces and the coats they get" unit:"none"`
	Buying       dataBuying        `json:"buying" doc:"what is bought, from whom, at which price" unit:"none"`
	Price        dataPrice         `json:"price" doc:"what the job costs and what is asked for it; the shop's own" unit:"none"`
	Sequence     dataSequence      `json:"sequence" doc:"the order of work" unit:"none"`
	Calendar     dataCalendar      `json:"calendar" doc:"the steps on their days; without tasks where the job says nothing of a calendar" unit:"none"`
	Alternatives []dataAlternative `json:"alternatives" doc:"other ways to build the job, compared" unit:"none"`
	Deliveries   []dataDelivery    `json:"deliveries" doc:"what came, in the order of the files" unit:"none"`
	RealSizes    []dataRealSize    `json:"realSizes" doc:"sizes read on delivery that the plan goes by, beside those in the parts' files" unit:"none"`
	AsWritten    []dataWay         `json:"asWritten" doc:"how the runs came out on the sizes in the parts' files; empty while nothing was delivered" unit:"none"`
	Made         []dataMade        `json:"made" doc:"pieces that are made already, and what becomes of them" unit:"none"`
	Inspection   dataInspection    `json:"inspection" doc:"the guard as it stands: what to measure on it, and what was read" unit:"none"`
	HandOver     dataHandOver      `json:"handOver" doc:"what is put right, what was put on, and when bolts are tightened once more" unit:"none"`
	Changes      dataChanges       `json:"changes" doc:"what is not as it was in the last issue, or in the issue or revision that was named" unit:"none"`
	Findings     []dataFinding     `json:"findings" doc:"what the checks say, worst first within each group" unit:"none"`
	Missing      []dataReading     `json:"missing" doc:"every reading still to be taken or decision still to be made, those of the runs included" unit:"none"`
	Figures      []dataFigure      `json:"figures" doc:"every number that somebody acts on, with its working; ids are unique" unit:"none"`
}

type dataLength struct {
	NM   int64  `json:"nm" doc:"the exact length: a whole number of nanometres, 25 400 000 to an inch" unit:"nm"`
	Text string `json:"text" doc:"the same for a person, with its unit: as a tape shows it where it lies on the job's division, on a sixty-fourth of an inch or on a tenth of a millimetre, else in decimals rounded to 4 places" unit:"the job's unit"`
}

type dataPlace struct {
	File string `json:"file" doc:"path of the file, with slashes, below the job's folder, shop/ or library/" unit:"text"`
	Line int    `json:"line,omitempty" min:"1" doc:"line in the file, from 1; absent where the file as a whole is meant" unit:"lines"`
	Col  int    `json:"col,omitempty" min:"1" doc:"column in the line, from 1, in characters" unit:"characters"`
}

type dataJob struct {
	Title    string     `json:"title,omitempty" doc:"name of the job" unit:"text"`
	Client   string     `json:"client,omitempty" doc:"who it is for, as written" unit:"text"`
	Place    string     `json:"place,omitempty" doc:"where it is, as written" unit:"text"`
	Measured string     `json:"measured,omitempty" doc:"date of measuring, as written" unit:"date"`
	Units    string     `json:"units" enum:"units" doc:"what the job is measured in: the unit of formulas, results and the text of lengths" unit:"text"`
	Division dataLength `json:"division" doc:"marks and cuts are rounded to a multiple of this" unit:"length"`
	Rules    string     `json:"rules,omitempty" doc:"name of the rule set it is judged by; absent while none is chosen" unit:"text"`
}

type dataRun struct {
	Name         string          `json:"name" doc:"the run's name: its file's stem less a leading number" unit:"text"`
	Title        string          `json:"title" doc:"its name on a page" unit:"text"`
	ID           string          `json:"id" doc:"stem of the ids of its figures, and the group of its findings and readings: run/gallery" unit:"text"`
	From         dataEnd         `json:"from" doc:"the end with the datum face, which every mark is measured from" unit:"none"`
	To           dataEnd         `json:"to" doc:"the other end" unit:"none"`
	Clear        *dataLength     `json:"clear,omitempty" doc:"clear length at the foot from the datum face to the other end's face, which the marks are laid out in; absent while not read" unit:"length"`
	Limit        *dataLimit      `json:"limit,omitempty" doc:"what the openings are laid out to; absent while there is no limit" unit:"none"`
	Chosen       *dataCandidate  `json:"chosen,omitempty" doc:"the count that is built; absent until the run can be laid out" unit:"none"`
	Why          string          `json:"why,omitempty" doc:"why this count" unit:"text"`
	LeastPassing *int            `json:"leastPassing,omitempty" min:"0" doc:"the smallest count whose worst opening is inside the limit; absent where none is, or none was looked for" unit:"balusters"`
	Candidates   []dataCandidate `json:"candidates" doc:"counts side by side, from one below the chosen one to two above" unit:"none"`
	Marks        []dataMark      `json:"marks" doc:"the centre of every baluster, in order from the datum face" unit:"none"`
	Openings     []dataOpening   `json:"openings" doc:"the largest ball that passes at each kind of place" unit:"none"`
	Spacer       *dataSpacer     `json:"spacer,omitempty" doc:"the block for stepping gaps; absent where there is none" unit:"none"`
	Kept         *dataKept       `json:"kept,omitempty" doc:"the old guard that stays, with new balusters between its old ones; absent where all is new. Then chosen, candidates and marks count the new ones alone, gap is the widest that is left at the foot, and spacing is that and a baluster" unit:"none"`
	Lean         *dataLean       `json:"lean,omitempty" doc:"what clears read at several heights say about the two ends; absent where only one was read" unit:"none"`
	Floor        dataFloor       `json:"floor" doc:"the floor under the run" unit:"none"`
	Levels       *dataLevels     `json:"levels,omitempty" doc:"heights of rail and shoe; absent while not known" unit:"none"`
	Rake         *dataRake       `json:"rake,omitempty" doc:"the stair under a flight and the line of its rail; absent for a level run" unit:"none"`
	Turnings     string          `json:"turnings,omitempty" doc:"which end of the balusters is trimmed, and how their turnings line up" unit:"text"`
	Holes        []dataHole      `json:"holes" doc:"what is bored or cut for the balusters' ends" unit:"none"`
	Cuts         []dataCut       `json:"cuts" doc:"the run's pieces: handrail, wall rail, shoe, balusters, fillets, rosettes" unit:"none"`
	Missing      []dataReading   `json:"missing" doc:"the run's own readings still to be taken" unit:"none"`
}

type dataPost struct {
	Name      string        `json:"name" doc:"the post's name in the job" unit:"text"`
	ID        string        `json:"id" doc:"stem of the ids of its figures, and the group of its findings: post/corner" unit:"text"`
	Known     bool          `json:"known" doc:"the newel is chosen and its sizes are known" unit:"none"`
	Newel     string        `json:"newel,omitempty" doc:"name of the newel" unit:"text"`
	Wide      dataLength    `json:"wide" doc:"of the newel where the rails meet it" unit:"length"`
	Down      dataLength    `json:"down" doc:"how far its foot, as cut, goes below the floor" unit:"length"`
	Arrivals  []dataArrival `json:"arrivals" doc:"the rails that come to it, in the order of the runs" unit:"none"`
	BlockFrom *dataLength   `json:"blockFrom,omitempty" doc:"foot of its square block as it stands, above the floor at the post; absent while not known" unit:"length"`
	BlockTo   *dataLength   `json:"blockTo,omitempty" doc:"top of that block" unit:"length"`
	NeedFrom  *dataLength   `json:"needFrom,omitempty" doc:"lowest underside of the rails; absent while not known" unit:"length"`
	NeedTo    *dataLength   `json:"needTo,omitempty" doc:"highest top of the rails and the reveal over it" unit:"length"`
	Reveal    dataLength    `json:"reveal" doc:"how much of the block is to stand over the highest rail" unit:"length"`
	Cut       *dataCut      `json:"cut,omitempty" doc:"the newel to its length; absent while not known" unit:"none"`
	Top       *dataLength   `json:"top,omitempty" doc:"top of the newel as cut, above the floor at the post; absent while not known, and where a rail goes over it" unit:"length"`
	Rows      []dataFootRow `json:"rows,omitempty" doc:"rows of bolts or lag screws at its foot, the upper first" unit:"none"`
}

type dataFootRow struct {
	Below  *dataLength `json:"below,omitempty" doc:"axis below the floor there as it is now, or what else the post stands on; absent while not known" unit:"length"`
	Up     *dataLength `json:"up,omitempty" doc:"the same up from the newel's bottom end as cut; absent while not known" unit:"length"`
	Figure string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
	Bench  string      `json:"bench,omitempty" doc:"id of the working of the height from the bottom end" unit:"text"`
}

type dataArrival struct {
	Run      string      `json:"run" doc:"name of the run" unit:"text"`
	End      string      `json:"end" enum:"end" doc:"which end of its run this is" unit:"text"`
	Raked    bool        `json:"raked" doc:"the rail comes on a rake" unit:"none"`
	Up       bool        `json:"up" doc:"a raked rail climbs away from the post" unit:"none"`
	Over     bool        `json:"over" doc:"the rail goes over the post" unit:"none"`
	Top      *dataLength `json:"top,omitempty" doc:"of the rail at the post's face, above the floor at the post; absent while not known" unit:"length"`
	Under    *dataLength `json:"under,omitempty" doc:"underside of the rail there" unit:"length"`
	Heading  json.Number `json:"heading" doc:"the way it leaves the post in plan, clockwise from the first arrival's; to a thousandth" unit:"degrees"`
	Turned   bool        `json:"turned" doc:"that was measured" unit:"none"`
	Skew     json.Number `json:"skew" doc:"how far off square its end is cut in plan; to a thousandth" unit:"degrees"`
	Bolt     *dataLength `json:"bolt,omitempty" doc:"height of the bolt's axis where it enters the post; absent while not known" unit:"length"`
	BoltDeep *dataLength `json:"boltDeep,omitempty" doc:"how deep it goes in, along its axis" unit:"length"`
}

type dataAbove struct {
	Stretches []dataStretch `json:"stretches" doc:"each run" unit:"none"`
	Posts     []dataSpot    `json:"posts" doc:"the middle of each post" unit:"none"`
	Assumed   []string      `json:"assumed" doc:"turns that were not measured, in words" unit:"text"`
}

type dataStretch struct {
	Run   string   `json:"run" doc:"name of the run" unit:"text"`
	Group int      `json:"group" min:"0" doc:"runs that hang together by their posts share a number; each group has an origin of its own" unit:"none"`
	From  dataSpot `json:"from" doc:"the datum end's face" unit:"none"`
	To    dataSpot `json:"to" doc:"the other end's face" unit:"none"`
}

type dataSpot struct {
	Name string      `json:"name,omitempty" doc:"of a post" unit:"text"`
	X    json.Number `json:"x" doc:"to the right; to a thousandth" unit:"mm"`
	Y    json.Number `json:"y" doc:"away from the reader; to a thousandth" unit:"mm"`
}

type dataRake struct {
	Treads    []dataTread `json:"treads" doc:"lowest first; the last is the landing; empty while not known" unit:"none"`
	Measured  bool        `json:"measured" doc:"each riser and going was read by itself" unit:"none"`
	Nosing    dataLength  `json:"nosing" doc:"how far a nosing stands out from the face of the riser below it" unit:"length"`
	From      dataLength  `json:"from" doc:"place of the lower end's face, level from the face of the lowest riser, uphill positive" unit:"length"`
	To        dataLength  `json:"to" doc:"place of the upper end's face, likewise" unit:"length"`
	Rise      dataLength  `json:"rise" doc:"of the line of the nosings, lowest to landing" unit:"length"`
	Going     dataLength  `json:"going" doc:"of the line of the nosings" unit:"length"`
	RailTop   *dataLength `json:"railTop,omitempty" doc:"top of the handrail above the line of the nosings, plumb; absent while not known" unit:"length"`
	RailThick *dataLength `json:"railThick,omitempty" doc:"height of the handrail's section, plumb" unit:"length"`
	ShoeUnder *dataLength `json:"shoeUnder,omitempty" doc:"underside of a raked shoe above the line of the nosings, plumb; absent on treads" unit:"length"`
	ShoeThick *dataLength `json:"shoeThick,omitempty" doc:"height of the shoe's section, plumb" unit:"length"`
	OnTreads  bool        `json:"onTreads" doc:"balusters stand on the treads, not on a raked shoe" unit:"none"`
	PerTread  int         `json:"perTread,omitempty" doc:"balusters on a whole tread; absent on a shoe" unit:"balusters"`
	Angle     *dataAmount `json:"angle,omitempty" doc:"of the rake, off level" unit:"degrees"`
	Square    *dataAmount `json:"square,omitempty" doc:"rise in 12 of run in inches, in 100 in millimetres" unit:"the job's unit"`
	Secant    *dataAmount `json:"secant,omitempty" doc:"length along the rake for each unit of level distance" unit:"none"`
}

type dataTread struct {
	N      int        `json:"n" min:"1" doc:"which, counted from below" unit:"none"`
	At     dataLength `json:"at" doc:"face of the riser below it, level from that of the lowest" unit:"length"`
	Height dataLength `json:"height" doc:"of its surface, above the floor below the lowest riser" unit:"length"`
	Riser  dataLength `json:"riser" doc:"the riser below it" unit:"length"`
	Going  dataLength `json:"going" doc:"to the face of the next riser; 0 for the landing" unit:"length"`
}

type dataHole struct {
	Where string     `json:"where" doc:"what it is in" unit:"text"`
	Wide  dataLength `json:"wide" doc:"diameter, or side of a square one" unit:"length"`
	Deep  dataLength `json:"deep" doc:"along the baluster" unit:"length"`
	Round bool       `json:"round" doc:"it is bored; else it is cut square" unit:"none"`
	Count int        `json:"count" min:"0" doc:"how many" unit:"holes"`
	Note  string     `json:"note,omitempty" doc:"what to know with it" unit:"text"`
}

type dataEnd struct {
	Name     string     `json:"name" doc:"wall, or the name of the post; says so where the end is not named yet" unit:"text"`
	Wall     bool       `json:"wall" doc:"the run stops at a wall" unit:"none"`
	Taken    string     `json:"taken" doc:"the face that the clear was taken to, in words" unit:"text"`
	Known    bool       `json:"known" doc:"false while the shape of the end is still to be measured" unit:"none"`
	Recess   dataLength `json:"recess" doc:"how far the face above the trim lies behind the face that marks are measured from; 0 without trim" unit:"length"`
	Proud    dataLength `json:"proud" doc:"how far trim that stays stands out from the face the clear was taken to: the shoe stops there" unit:"length"`
	TrimHigh dataLength `json:"trimHigh" doc:"height of that trim" unit:"length"`
	Rosette  dataLength `json:"rosette" doc:"how far a rosette stands off; 0 without one" unit:"length"`
	Newel    string     `json:"newel,omitempty" doc:"name of the newel; absent at a wall and while not chosen" unit:"text"`
}

type dataLimit struct {
	Value    dataLength `json:"value" doc:"the limit on openings" unit:"length"`
	Operator string     `json:"operator" enum:"operator" doc:"how an opening is compared with it; under means that exactly on the limit fails" unit:"text"`
	From     string     `json:"from" doc:"where the limit comes from, in words" unit:"text"`
}

type dataCandidate struct {
	Count    int        `json:"count" min:"0" doc:"how many balusters" unit:"balusters"`
	Gap      dataLength `json:"gap" doc:"between two balusters at the foot, to the nanometre; the whole clear for none" unit:"length"`
	EndGap   dataLength `json:"endGap" doc:"at the foot between the datum face and the first baluster, to the nanometre" unit:"length"`
	Spacing  dataLength `json:"spacing" doc:"centre to centre, to the nanometre; 0 where there is none" unit:"length"`
	Worst    dataLength `json:"worst" doc:"worst opening of the rounded marks with every tolerance the bad way: what is judged" unit:"length"`
	Where    string     `json:"where,omitempty" doc:"where the worst opening is" unit:"text"`
	Passes   *bool      `json:"passes,omitempty" doc:"the worst opening is inside the limit; absent where that is not settled, as verdict says" unit:"none"`
	PerTread int        `json:"perTread,omitempty" min:"0" doc:"balusters on a whole tread, where they stand on treads; gap and spacing are then the widest" unit:"balusters"`
	Verdict  string     `json:"verdict" enum:"verdict" doc:"what may be said of this count" unit:"none"`
	Chosen   bool       `json:"chosen" doc:"this is the count that is built" unit:"none"`
}

type dataMark struct {
	K    int         `json:"k" min:"1" doc:"which baluster, from 1 at the datum end" unit:"none"`
	At   dataLength  `json:"at" doc:"its centre from the datum face, rounded to the division: what is marked" unit:"length"`
	Shoe dataLength  `json:"shoe" doc:"the same from the end of the shoe; where the floor steps, from the end of the piece that it is on" unit:"length"`
	Rail *dataLength `json:"rail,omitempty" doc:"the same from the end of the handrail; absent while that can't be said" unit:"length"`

	Gap  int           `json:"gap,omitempty" min:"1" doc:"the old gap that it stands in, counted from the datum end; absent where no old guard stays" unit:"none"`
	Rake *dataRakeMark `json:"rake,omitempty" doc:"what a flight adds; at is then level" unit:"none"`
}

type dataRakeMark struct {
	Tread  int         `json:"tread" min:"0" doc:"that it stands on, counted from below; 0 is the floor, and on a raked shoe" unit:"none"`
	Riser  *dataLength `json:"riser,omitempty" doc:"from the face of that tread's riser: what is marked on a tread; absent on a shoe" unit:"length"`
	Along  dataLength  `json:"along" doc:"along the rake from the datum face: what is marked on a shoe" unit:"length"`
	Stands dataLength  `json:"stands" doc:"height that its foot is seen at, above the floor below the flight" unit:"length"`
	Lift   dataLength  `json:"lift" doc:"height of the bottom of its profile as bought, likewise" unit:"length"`
	Head   dataLength  `json:"head" doc:"height that its axis meets the underside of the rail, likewise" unit:"length"`
}

type dataOpening struct {
	Where   string      `json:"where" doc:"which place, in words" unit:"text"`
	Part    string      `json:"part" enum:"part" doc:"at the datum end, between two balusters, or at the other end" unit:"text"`
	Foot    dataLength  `json:"foot" doc:"widest gap at the foot by the rounded marks, without tolerances" unit:"length"`
	Known   bool        `json:"known" doc:"false while the shape of the end is still to be measured; openings then go by what is known of it" unit:"none"`
	Nominal dataLength  `json:"nominal" doc:"largest ball that passes by the rounded marks and true profiles, without tolerances" unit:"length"`
	Worst   dataLength  `json:"worst" doc:"the same with every tolerance the bad way: what is judged" unit:"length"`
	At      *dataCentre `json:"at,omitempty" doc:"centre of the worst ball" unit:"mm"`
	Figure  string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
}

type dataCentre struct {
	X json.Number `json:"x" doc:"across, from the reference line of the left one of the two: the face at an end, the axis of a baluster; to a thousandth" unit:"mm"`
	Z json.Number `json:"z" doc:"height above the floor that the guard stands on, or above the baluster's foot while heights are not known; to a thousandth" unit:"mm"`
}

type dataKept struct {
	Part   string       `json:"part,omitempty" doc:"name of the baluster that stands there; absent while not said" unit:"text"`
	Added  int          `json:"added" min:"0" doc:"new balusters of the whole run" unit:"balusters"`
	Before dataLength   `json:"before" doc:"the worst opening as found" unit:"length"`
	Least  dataLength   `json:"least" doc:"of the gaps' worst openings with the new ones in, the least; with most it says how alike they look" unit:"length"`
	Most   dataLength   `json:"most" doc:"and the greatest" unit:"length"`
	Old    []dataOld    `json:"old" doc:"the balusters that stand there, from the datum end on" unit:"none"`
	Gaps   []dataOldGap `json:"gaps" doc:"the room between them and beside the ends, from the datum end on" unit:"none"`
	Words  []string     `json:"words" doc:"what this does not say" unit:"text"`
}

type dataOld struct {
	N    int         `json:"n" min:"1" doc:"counted from the datum end" unit:"none"`
	Near dataLength  `json:"near" doc:"its near face at the foot, from the datum face, level" unit:"length"`
	At   dataLength  `json:"at" doc:"its middle there" unit:"length"`
	Lean *dataLength `json:"lean,omitempty" doc:"of its head from its foot, away from the datum end where positive; absent where it was not read" unit:"length"`
}

type dataOldGap struct {
	N       int         `json:"n" min:"1" doc:"counted from the datum end" unit:"none"`
	Where   string      `json:"where" doc:"what it lies between" unit:"text"`
	Foot    dataLength  `json:"foot" doc:"between its two faces at the foot" unit:"length"`
	Between dataLength  `json:"between" doc:"from shoe to rail, plumb" unit:"length"`
	Found   *dataLength `json:"found,omitempty" doc:"worst opening as found; absent while the shape of an end is to be measured" unit:"length"`
	New     int         `json:"new" min:"0" doc:"new balusters that go in" unit:"balusters"`
	Least   *int        `json:"least,omitempty" min:"0" doc:"the fewest that pass; absent where no number does" unit:"balusters"`
	Worst   *dataLength `json:"worst,omitempty" doc:"worst opening with them in" unit:"length"`
	Room    *dataLength `json:"room,omitempty" doc:"least room beside a new one, at the foot or under the rail; absent where none goes in" unit:"length"`
}

type dataSpacer struct {
	Block   dataLength `json:"block" doc:"the block, rounded to the division" unit:"length"`
	LastGap dataLength `json:"lastGap" doc:"what is left at the far end when every gap is stepped with it" unit:"length"`
	Drift   dataLength `json:"drift" doc:"last gap less the gap that was meant; negative where it comes out narrower" unit:"length"`
	Figure  string     `json:"figure,omitempty" doc:"id of the working of the drift" unit:"text"`
}

type dataLean struct {
	Out      bool              `json:"out" doc:"the clears differ by more than the tape's division" unit:"none"`
	Settled  bool              `json:"settled" doc:"a plumb reading says which end leans" unit:"none"`
	Words    string            `json:"words" doc:"which way, in words" unit:"text"`
	Sum      dataLength        `json:"sum" doc:"how much wider than at the floor the opening is at the rail, both ends together" unit:"length"`
	FromRail *dataLength       `json:"fromRail,omitempty" doc:"how far the datum end stands away from the opening at the rail; negative into it; absent while not settled" unit:"length"`
	ToRail   *dataLength       `json:"toRail,omitempty" doc:"how far the other end stands away from the opening at the rail; negative into it; absent while not settled" unit:"length"`
	Readings []dataLeanReading `json:"readings" doc:"how much wider the opening is at each height that was read, trim and turnings taken off" unit:"none"`
}

type dataLeanReading struct {
	At    dataLength `json:"at" doc:"height of the reading" unit:"length"`
	Wider dataLength `json:"wider" doc:"how much wider than at the floor; negative where narrower" unit:"length"`
}

type dataFloor struct {
	How    string           `json:"how" enum:"floor" doc:"what the guard does about the floor: nothing, the shoe is scribed, or balusters get their own lengths" unit:"text"`
	Out    dataLength       `json:"out" doc:"highest point less lowest; where the floor steps, on the stretch between steps where that is most" unit:"length"`
	Words  string           `json:"words" doc:"the same in a sentence" unit:"text"`
	Points []dataFloorPoint `json:"points" doc:"height of the floor along the run, from its level readings; empty while it was not read" unit:"none"`
	Scribe []dataFloorPoint `json:"scribe" doc:"what is taken off the underside of a scribed shoe along the run" unit:"none"`
}

type dataFloorPoint struct {
	At     dataLength `json:"at" doc:"from the end that the run is measured from" unit:"length"`
	Height dataLength `json:"height" doc:"above the floor at the datum end, or taken off the shoe" unit:"length"`
}

type dataLevels struct {
	RailTop   dataLength `json:"railTop" doc:"top of the handrail above the floor that the guard stands on, at the datum end" unit:"length"`
	RailUnder dataLength `json:"railUnder" doc:"underside of the handrail above the same" unit:"length"`
	ShoeTop   dataLength `json:"shoeTop" doc:"top of the shoe above the same; 0 without a shoe" unit:"length"`
	Finished  dataLength `json:"finished" doc:"top of the handrail above the highest point of the finished floor" unit:"length"`
	Bare      dataLength `json:"bare" doc:"top of the handrail above the highest point of the bare floor" unit:"length"`
}

type dataCut struct {
	What     string      `json:"what" doc:"handrail, wall rail, shoe, baluster, newel, shoe fillet, rail fillet or rosette" unit:"text"`
	Part     string      `json:"part" doc:"name of the part that it is cut from" unit:"text"`
	Title    string      `json:"title,omitempty" doc:"the part's name on a page" unit:"text"`
	Run      string      `json:"run,omitempty" doc:"name of the run that it belongs to" unit:"text"`
	Count    int         `json:"count" min:"0" doc:"how many alike" unit:"pieces"`
	Length   *dataLength `json:"length,omitempty" doc:"what is cut: the exact length rounded to the division; absent where it is cut to the opening as it stands" unit:"length"`
	Exact    *dataLength `json:"exact,omitempty" doc:"the length before it is rounded, to the nanometre" unit:"length"`
	Long     *dataLength `json:"long,omitempty" doc:"of a baluster with a beveled head: its long point; length is at the axis" unit:"length"`
	Short    *dataLength `json:"short,omitempty" doc:"its short point" unit:"length"`
	Blank    *dataLength `json:"blank,omitempty" doc:"what to cut off the stick first, where an end is cut to a rake" unit:"length"`
	Treads   string      `json:"treads,omitempty" doc:"the treads that balusters go to" unit:"text"`
	Rounding string      `json:"rounding" enum:"rounding" doc:"which way it is rounded; unrounded where it is cut as it is" unit:"text"`
	Which    string      `json:"which,omitempty" doc:"which ones these are" unit:"text"`
	Fit      string      `json:"fit,omitempty" doc:"what to know when cutting" unit:"text"`
	Figure   string      `json:"figure,omitempty" doc:"id of the working of the exact length" unit:"text"`
}

type dataTakeoff struct {
	Pieces   []dataCut     `json:"pieces" doc:"every piece of all runs, in the order they are cut" unit:"none"`
	Needs    []dataNeed    `json:"needs" doc:"every part to order" unit:"none"`
	Cuttings []dataCutting `json:"cuttings" doc:"how pieces are cut from sticks, part by part" unit:"none"`
	Labels   []dataLabel   `json:"labels" doc:"what is written on every single piece" unit:"none"`
	Blanks   []dataBlank   `json:"blanks" doc:"the marks of chosen pieces whose length is not worked out yet" unit:"none"`
	Setups   dataSetups    `json:"setups" doc:"every setting of saw and drill, in the order in which they change least" unit:"none"`
	Fixings  []dataFixing  `json:"fixings" doc:"what holds every joint, and how it is bored and driven" unit:"none"`
}

type dataNeed struct {
	Kind    string      `json:"kind" doc:"baluster, newel, handrail, shoe, fillet, rosette, bolt" unit:"text"`
	Part    string      `json:"part" doc:"the part's name" unit:"text"`
	Title   string      `json:"title,omitempty" doc:"its name on a page" unit:"text"`
	Species string      `json:"species,omitempty" doc:"its wood" unit:"text"`
	File    string      `json:"file,omitempty" doc:"the file that it is described in" unit:"text"`
	Count   int         `json:"count" min:"0" doc:"pieces that the job needs" unit:"pieces"`
	Spare   int         `json:"spare" min:"0" doc:"more, by the shop's rule" unit:"pieces"`
	Order   int         `json:"order" min:"0" doc:"both together" unit:"pieces"`
	Running *dataLength `json:"running,omitempty" doc:"all pieces end to end, without kerf or waste, of parts bought by length" unit:"length"`
	Longest *dataLength `json:"longest,omitempty" doc:"the longest piece" unit:"length"`
	Bought  *dataLength `json:"bought,omitempty" doc:"length as bought, of parts bought by the piece" unit:"length"`
	Figure  string      `json:"figure,omitempty" doc:"id of the working" unit:"text"`
}

type dataFinishing struct {
	Air      *dataCoatingAir  `json:"air,omitempty" doc:"the air that coats go on in; absent while it was not read" unit:"none"`
	Systems  []dataSystem     `json:"systems" doc:"the finishes that are used, each once" unit:"none"`
	Groups   []dataGroup      `json:"groups" doc:"groups of parts that get one finish" unit:"none"`
	Old      []dataOldSurface `json:"old" doc:"coated surface of each old guard that is taken out" unit:"none"`
	Missing  []dataReading    `json:"missing" doc:"readings that finishing waits for" unit:"none"`
	Supplies []dataSupply     `json:"supplies" doc:"sandpaper, tape, brushes and rags, as far as they are counted" unit:"none"`
}

// dataAmount is a figure's value where it is used: a surface or a volume.
type dataAmount struct {
	Value  json.Number `json:"value" doc:"the amount: in full where it ends within nine decimals, else rounded to six" unit:"see unit"`
	Unit   string      `json:"unit" doc:"what the amount is counted in, such as sq ft, m2, fl oz or L" unit:"text"`
	Figure string      `json:"figure" doc:"id of its working" unit:"text"`
}

type dataGroup struct {
	Name    string        `json:"name" doc:"balusters, newels, handrail or shoe" unit:"text"`
	Finish  string        `json:"finish,omitempty" doc:"name of the finish; absent while none is chosen" unit:"text"`
	Type    string        `json:"type,omitempty" doc:"paint, clear or stain" unit:"text"`
	Base    string        `json:"base,omitempty" doc:"oil, water or shellac" unit:"text"`
	Area    *dataAmount   `json:"area,omitempty" doc:"surface of the whole group; absent until sizes are known" unit:"area"`
	Lines   []dataArea    `json:"lines" doc:"surface of each kind of part in the group" unit:"none"`
	Coats   []dataCoat    `json:"coats" doc:"the coats, in order" unit:"none"`
	Still   []dataStill   `json:"still,omitempty" doc:"what each coat still goes on, coats alike each; absent where none is on any piece yet" unit:"none"`
	Batches *dataBatches  `json:"batches,omitempty" doc:"how many are coated at a time; absent where the shop does not say on what, or pieces are not counted" unit:"none"`
	Sanded  []dataSanding `json:"sanded" doc:"what is sanded, by grit" unit:"none"`
}

type dataCoatingAir struct {
	ForCoating  bool         `json:"forCoating" doc:"read where coats go on; else as it was when the guard was measured" unit:"none"`
	Temperature json.Number  `json:"temperature" doc:"of the air" unit:"see unit"`
	Humidity    json.Number  `json:"humidity" doc:"relative humidity" unit:"%"`
	Surface     *json.Number `json:"surface,omitempty" doc:"temperature of the wood; absent while it was not read" unit:"see unit"`
	DewPoint    *dataAmount  `json:"dewPoint,omitempty" doc:"dew point; absent while it is not known" unit:"see unit"`
	Unit        string       `json:"unit" doc:"of the temperatures, °F or °C" unit:"text"`
}

type dataSystem struct {
	Finish string `json:"finish" doc:"name of the finish" unit:"text"`
	Hands  *int   `json:"hands,omitempty" min:"0" doc:"from the last coat until it is dry to the hand; where the can does not say, until it could be coated again; absent while that is not known" unit:"min"`
	Tape   *int   `json:"tape,omitempty" min:"0" doc:"from the last coat until it takes tape and hard cleaning; absent where nobody says" unit:"min"`
}

type dataBatches struct {
	On      string      `json:"on" doc:"strips or horses" unit:"text"`
	Pieces  int         `json:"pieces" min:"0" doc:"how many there are" unit:"pieces"`
	AtATime int         `json:"atATime" min:"0" doc:"how many are coated at a time" unit:"pieces"`
	Batches int         `json:"batches" min:"0" doc:"how many batches" unit:"batches"`
	Turns   int         `json:"turns" min:"0" doc:"goes that a coat takes" unit:"times"`
	Cycles  []dataCycle `json:"cycles" doc:"each coat over all batches, as coats" unit:"none"`
}

type dataCycle struct {
	Work    *int `json:"work,omitempty" min:"0" doc:"working time over all batches; absent where the shop does not say" unit:"min"`
	Minutes *int `json:"minutes,omitempty" min:"0" doc:"until the last batch is dry, day and night; absent while it is not known" unit:"min"`
}

type dataSupply struct {
	Name   string `json:"name" doc:"as in a price list" unit:"text"`
	Title  string `json:"title" doc:"in words" unit:"text"`
	Count  int    `json:"count" min:"0" doc:"how many are used up" unit:"pieces"`
	Figure string `json:"figure" doc:"id of its working" unit:"text"`
}

type dataSanding struct {
	Grit int         `json:"grit" min:"0" doc:"grit of the paper" unit:"none"`
	Area *dataAmount `json:"area,omitempty" doc:"surface, each time counted" unit:"area"`
}

type dataArea struct {
	What  string      `json:"what" doc:"the kind of part" unit:"text"`
	Count int         `json:"count" min:"0" doc:"how many" unit:"pieces"`
	Area  *dataAmount `json:"area,omitempty" doc:"surface of all of them; absent until sizes are known" unit:"area"`
}

type dataStill struct {
	Coat  int         `json:"coat" min:"1" doc:"which coat, coats alike counted each" unit:"none"`
	Count int         `json:"count" min:"0" doc:"pieces that it is not on yet" unit:"pieces"`
	Area  *dataAmount `json:"area,omitempty" doc:"their surface; absent where there are none" unit:"area"`
}

type dataCoat struct {
	N        int           `json:"n" min:"1" doc:"place in the order, from 1" unit:"none"`
	Name     string        `json:"name,omitempty" doc:"what goes on" unit:"text"`
	Times    int           `json:"times" min:"1" doc:"how many coats alike" unit:"coats"`
	Coverage *dataCoverage `json:"coverage,omitempty" doc:"surface that a unit of volume covers; absent where it is not given" unit:"area per volume"`
	Dry      string        `json:"dry,omitempty" doc:"time before the next coat, as written" unit:"text"`
	Dries    *int          `json:"dries,omitempty" min:"0" doc:"what to reckon with before the next coat, longer than written where it is cold or damp; absent while nothing is written" unit:"min"`
	Within   *int          `json:"within,omitempty" min:"0" doc:"the next coat holds without sanding within this; absent where nobody says" unit:"min"`
	Sand     string        `json:"sand,omitempty" doc:"grit after it, before the next, as written" unit:"text"`
	Status   string        `json:"status,omitempty" enum:"status" doc:"how sure the coverage is" unit:"text"`
	Volume   *dataAmount   `json:"volume,omitempty" doc:"how much all coats alike take, loss counted; absent until area and coverage are known, and where it is on all pieces" unit:"volume"`
	OnAll    bool          `json:"onAll,omitempty" doc:"it is on all pieces already" unit:"none"`
}

type dataCoverage struct {
	Value json.Number `json:"value" doc:"as written, to a thousandth" unit:"see unit"`
	Unit  string      `json:"unit" doc:"sq ft/gal or m2/L" unit:"text"`
}

type dataOldSurface struct {
	Survey string      `json:"survey" doc:"name of the survey" unit:"text"`
	Area   *dataAmount `json:"area,omitempty" doc:"coated surface; absent while members are still to be counted" unit:"area"`
	Over   *bool       `json:"over,omitempty" doc:"more than 6 sq ft, which makes taking it out lead renovation work where lead is not ruled out; absent while the area is not known" unit:"none"`
}

type dataSequence struct {
	Minutes  int           `json:"minutes" min:"0" doc:"working time of all steps whose time is known" unit:"min"`
	Steps    []dataStep    `json:"steps" doc:"the steps in order" unit:"none"`
	Cautions []dataCaution `json:"cautions" doc:"every caution that applies" unit:"none"`
}

type dataStep struct {
	N          int            `json:"n" min:"1" doc:"its place in the order, from 1" unit:"none"`
	Name       string         `json:"name" doc:"its name" unit:"text"`
	Title      string         `json:"title,omitempty" doc:"what is done" unit:"text"`
	Hold       string         `json:"hold,omitempty" doc:"what must be settled before the work goes on; absent where the step is no hold point" unit:"text"`
	Right      string         `json:"right,omitempty" doc:"how to know that it is right" unit:"text"`
	Done       string         `json:"done,omitempty" doc:"the day it was done; absent while it is not" unit:"text"`
	Minutes    int            `json:"minutes" min:"0" doc:"working time; 0 where the step gives none" unit:"min"`
	Made       int            `json:"made,omitempty" min:"0" doc:"how many of those that its time counts are made so far already" unit:"pieces"`
	Saved      int            `json:"saved,omitempty" min:"0" doc:"what of its time goes for these" unit:"min"`
	Counted    bool           `json:"counted" doc:"the time counts something that is known" unit:"none"`
	Tools      []string       `json:"tools" doc:"tools that it takes" unit:"text"`
	Quantities []dataQuantity `json:"quantities" doc:"what it counts in this job" unit:"none"`
	Cautions   []string       `json:"cautions" doc:"names of the cautions that bite here" unit:"text"`
	Pieces     []dataPiece    `json:"pieces" doc:"coats and old guards that are ticked off by themselves; none for most steps" unit:"none"`
	Wait       *dataWait      `json:"wait,omitempty" doc:"what passes after it, as its file says; absent where nothing is written" unit:"none"`
}

type dataQuantity struct {
	Name string `json:"name" doc:"what is counted" unit:"text"`
	N    *int   `json:"n,omitempty" min:"0" doc:"how many; absent while readings are missing" unit:"pieces"`
}

type dataCaution struct {
	Name   string `json:"name" doc:"its name" unit:"text"`
	Title  string `json:"title,omitempty" doc:"the danger, in words" unit:"text"`
	Source string `json:"source,omitempty" doc:"what it rests on" unit:"text"`
	Status string `json:"status,omitempty" enum:"status" doc:"how sure it is" unit:"text"`
	File   string `json:"file,omitempty" doc:"the file that it is written in" unit:"text"`

	Law []dataLaw `json:"law" doc:"what laws say about it, of the country of the job's rule set and of others" unit:"none"`
}

type dataLaw struct {
	Country string `json:"country,omitempty" doc:"whose law it is" unit:"text"`
	Here    bool   `json:"here" doc:"the job's rule set is of that country; elsewhere it is no law, and that of the place is to be asked for" unit:"none"`
	Says    string `json:"says" doc:"what it says; lengths stand in braces" unit:"text"`
	Source  string `json:"source,omitempty" doc:"where it stands" unit:"text"`
	Status  string `json:"status,omitempty" enum:"status" doc:"how sure it is" unit:"text"`
}

type dataFinding struct {
	ID       string      `json:"id" doc:"stable name: check/run/gallery/opening" unit:"text"`
	Group    string      `json:"group,omitempty" doc:"what it belongs to: run/gallery, survey/old-railing" unit:"text"`
	Title    string      `json:"title" doc:"what was judged, in words" unit:"text"`
	Verdict  string      `json:"verdict" enum:"verdict" doc:"the outcome" unit:"text"`
	Measured *dataLength `json:"measured,omitempty" doc:"the value that was judged" unit:"length"`
	Operator string      `json:"operator,omitempty" enum:"operator" doc:"how it is compared with the limit" unit:"text"`
	Limit    *dataLength `json:"limit,omitempty" doc:"what it was judged by" unit:"length"`
	Margin   *dataLength `json:"margin,omitempty" doc:"how far inside the limit it lies; negative outside" unit:"length"`
	Clause   string      `json:"clause,omitempty" doc:"the clause behind the limit" unit:"text"`
	Status   string      `json:"status,omitempty" enum:"status" doc:"how sure the limit is" unit:"text"`
	Rules    string      `json:"rules,omitempty" doc:"the rule set that the limit comes from, or what else it is judged by" unit:"text"`
	Amends   string      `json:"amends,omitempty" doc:"the rule set that the limit amends" unit:"text"`
	Set      *dataPlace  `json:"set,omitempty" doc:"where the limit was written" unit:"none"`
	At       *dataPlace  `json:"at,omitempty" doc:"where the value, or its main input, was written" unit:"none"`
	Figure   string      `json:"figure,omitempty" doc:"id of the working of the value" unit:"text"`
	Note     string      `json:"note,omitempty" doc:"what the reader must know with it" unit:"text"`
	Cure     string      `json:"cure,omitempty" doc:"what would put it right, where that is known" unit:"text"`
}

type dataReading struct {
	What  string     `json:"what" doc:"what to read or decide" unit:"text"`
	Where string     `json:"where" doc:"the file and the key to write it under" unit:"text"`
	Why   string     `json:"why,omitempty" doc:"what waits for it" unit:"text"`
	Group string     `json:"group,omitempty" doc:"what it belongs to: run/gallery" unit:"text"`
	At    *dataPlace `json:"at,omitempty" doc:"the file, and the blank key where there is one" unit:"none"`
}

type dataFigure struct {
	ID        string         `json:"id" doc:"stable name: run/gallery/gap" unit:"text"`
	Title     string         `json:"title" doc:"what it is, in words" unit:"text"`
	Symbol    string         `json:"symbol,omitempty" doc:"what stands on the left of the formula" unit:"text"`
	Unit      string         `json:"unit,omitempty" doc:"unit of the result; absent for a plain number" unit:"text"`
	Formula   string         `json:"formula" doc:"the formula with symbols: + - * / and brackets, sqrt(x), sin(x), cos(x) and tan(x) of an angle in radians, atan(x) in radians, min(x, ...), max(x, ...), and nearest(x, d), up(x, d), down(x, d), which round x to a multiple of d, nearest taking an exact half away from zero" unit:"text"`
	Numbers   string         `json:"numbers" doc:"the formula with the numbers put in; those that do not end within nine decimals are rounded to six, variables of a series and inputs without a value stay symbols" unit:"text"`
	Result    json.Number    `json:"result,omitempty" doc:"the result: in full where it ends within nine decimals, else rounded to six; absent where the formula has no value, and for a series" unit:"see unit"`
	Rounded   bool           `json:"rounded,omitempty" doc:"true where the result is rounded to six decimals; absent where it is in full" unit:"none"`
	Inputs    []dataInput    `json:"inputs" doc:"what goes in, each symbol once, in the order of the formula" unit:"none"`
	Citations []dataCitation `json:"citations" doc:"what stands behind the formula" unit:"none"`
	Note      string         `json:"note,omitempty" doc:"a sentence that the reader needs with it" unit:"text"`
	Series    *dataSeries    `json:"series,omitempty" doc:"the rows of a formula that is worked out many times; absent where it is worked out once" unit:"none"`
}

type dataInput struct {
	Symbol  string      `json:"symbol" doc:"as in the formula" unit:"text"`
	Name    string      `json:"name" doc:"what it is, in words" unit:"text"`
	Value   json.Number `json:"value,omitempty" doc:"the value: in full where it ends within nine decimals, else rounded to six; absent where it has none" unit:"see unit"`
	Rounded bool        `json:"rounded,omitempty" doc:"true where the value is rounded to six decimals; absent where it is in full" unit:"none"`
	Unit    string      `json:"unit,omitempty" doc:"unit of the value; absent for a plain number" unit:"text"`
	File    string      `json:"file,omitempty" doc:"file that it was written in; absent where no file says it" unit:"text"`
	Line    int         `json:"line,omitempty" min:"1" doc:"line in that file, from 1" unit:"lines"`
	Col     int         `json:"col,omitempty" min:"1" doc:"column in that line, from 1, in characters" unit:"characters"`
	From    string      `json:"from,omitempty" doc:"where it comes from, in words, where no file says it" unit:"text"`
	Figure  string      `json:"figure,omitempty" doc:"id of the figure that it is the result of" unit:"text"`
}

type dataCitation struct {
	Text   string `json:"text" doc:"the clause, table or rule" unit:"text"`
	Status string `json:"status" enum:"status" doc:"how sure it is" unit:"text"`
}

type dataSeries struct {
	Vars  []string  `json:"vars" doc:"symbols of what changes from row to row" unit:"text"`
	Names []string  `json:"names" doc:"the same in words" unit:"text"`
	Rows  []dataRow `json:"rows" doc:"one for each time the formula is worked out" unit:"none"`
}

type dataRow struct {
	Vars    []json.Number `json:"vars" doc:"values of the variables, in the order of vars" unit:"none"`
	Value   json.Number   `json:"value,omitempty" doc:"the result of this row: in full where it ends within nine decimals, else rounded to six; absent where the formula has no value" unit:"see unit"`
	Rounded bool          `json:"rounded,omitempty" doc:"true where the result is rounded to six decimals; absent where it is in full" unit:"none"`
}
