package jobbook

import (
	"fmt"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/site"
)

// issues is the folder that issues are recorded in, below the job's.
const issues = "issues"

// issueName is what an issue can be called: it becomes a file's name.
var issueName = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// Issue records the plan of the job in dir as it stands, in a file of the job that later plans are compared with: dir/issues/N-name.md. day is the day it is handed out, year-month-day, or empty. It gives the file's path
// below dir; where a file of the job can't be understood, the result holds the problems and nothing is recorded. A name that cannot be one, or is there already, is a site.UsageError.
func Issue(dir, name, day string) (Result, string, error) {
	if !issueName.MatchString(name) {
		like := strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') }), "-")
		if !issueName.MatchString(like) {
			like = "first or after-remeasuring"
		}
		return Result{}, "", &site.UsageError{Summary: fmt.Sprintf("an issue cannot be called %q", name), Hint: "take small letters, digits and hyphens, as in " + like}
	}
	result, err := Check(dir)
	if err != nil || result.Plan == nil {
		return result, "", err
	}
	n := 0
	for _, i := range result.Job.Issues {
		if i.Name == name {
			return result, "", &site.UsageError{Summary: "there is an issue called " + name + " already, " + i.File, Hint: "choose another name"}
		}
		if k, err := strconv.Atoi(leadingNumber.FindString(path.Base(i.File))); err == nil {
			n = max(n, k)
		}
	}
	facts, _ := result.Plan.Facts()
	front := "---\nkind: issue\n"
	if day != "" {
		front += "day: " + day + "\n"
	}
	file := path.Join(issues, fmt.Sprintf("%d-%s.md", n+1, name))
	return result, file, startFile(filepath.Join(dir, filepath.FromSlash(file)), []byte(front+"---\n\n"+changes.Text(facts)))
}

var leadingNumber = regexp.MustCompile(`^[0-9]{1,6}`)
