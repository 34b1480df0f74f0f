// Package templates embeds what is not code: the page templates, the style sheet, and the library of rule sets, steps,
// cautions, parts and finishes as Markdown. Only package jobbook imports it, and hands it down.
package templates

import "embed"

// Pages holds pages/*.html, pages/style.css and the typeface.
//
//go:embed pages
var Pages embed.FS

// Library holds library/**.md.
//
//go:embed library
var Library embed.FS

// Start holds start/**.md, the files of a new job.
//
//go:embed start
var Start embed.FS
