package job

import "slices"

// FootJoint is the joint between the foot of a run's balusters and what they stand on.
func (r *Run) FootJoint() string {
	joint := "baluster to shoe"
	if r.Shoe == nil {
		joint = "baluster to floor"
	}
	if r.Stays() { // there is no getting at their ends from below or above
		joint = "new " + joint
	}
	return joint
}

// FootLoose reports that nothing holds the foot of a run's balusters: no pin, no plow, not let in, and of the ways to fix it none but glue, which holds nothing on the end of the wood (common practice, no source).
func (j *Job) FootLoose(r *Run) bool {
	if r.Baluster == nil || r.Shoe != nil || r.Baluster.Bottom.Text == "pin" || r.Baluster.Bottom.Text == "let in" {
		return false
	}
	return !slices.ContainsFunc(j.Ways(r.FootJoint()), func(f *Fastening) bool { return f.Part == nil || f.Part.Type.Text != "glue" })
}
