// The shapes that the server answers with, as docs/page.md tells them. Lengths are millimetres.

/**
 * @typedef {object} Finding
 * @property {"refused" | "caution" | "estimated" | "default" | "note"} weight
 * @property {string} where
 * @property {string | null} [field]
 * @property {string} what
 * @property {string} remedy
 *
 * @typedef {object} Start
 * @property {{id: string, title: string, client: string, garments: string[], changed: string, revision: number, away?: boolean}[]} commissions
 * @property {{name: string, title: string, says: string}[]} examples
 * @property {Record<string, string>} settings
 * @property {boolean} offers_starter
 *
 * @typedef {object} Pin
 * @property {string} piece
 * @property {"upright" | "level"} axis
 * @property {string} [bar]
 * @property {string} [at]
 * @property {string} [edge]
 * @property {string} [line]
 * @property {string} [mark]
 * @property {string} [stop]
 *
 * @typedef {{set: string, to: unknown} | {take_out: string} | {pin: Pin} | {measure_in: string}
 *   | {cut: {pieces: string[]}}} Change
 *
 * @typedef {object} Option
 * @property {string} value
 * @property {string} says
 *
 * @typedef {object} Choice
 * @property {string | null} field
 * @property {string | null} value
 * @property {string} says
 * @property {boolean} custom
 * @property {"words" | "length" | "count" | "text" | "yes-no" | "place"} kind
 * @property {Option[]} [options]
 * @property {string} title
 * @property {Pin} [pin]
 * @property {{bar: string, at: string, says: string}[]} [bars]
 *
 * @typedef {object} Sentence
 * @property {string} id
 * @property {(string | Choice)[]} parts
 *
 * @typedef {object} Section
 * @property {string} title
 * @property {Sentence[]} sentences
 *
 * @typedef {object} Commission
 * @property {string} id
 * @property {string} title
 * @property {string} client
 * @property {"cm" | "inches"} units
 * @property {number} revision
 * @property {string | null} undo
 * @property {string | null} redo
 * @property {string[]} [merged]
 * @property {string} toml
 * @property {Record<string, any>} values
 * @property {Section[]} ticket
 * @property {Finding[]} findings
 * @property {{name: string, revision: number}[]} versions
 * @property {string | null} plan
 *
 * @typedef {object} Measure
 * @property {string} name
 * @property {number} number
 * @property {string} title
 * @property {string} how
 * @property {string | number | null} written
 * @property {string | null} said
 * @property {boolean} is_estimate
 * @property {string} by
 * @property {boolean} is_needed
 * @property {string} group
 *
 * @typedef {object} Measurements
 * @property {string} svg
 * @property {Measure[]} measures
 * @property {{name: string, title: string}[]} correctable
 *
 * @typedef {object} SaidBar
 * @property {string} name
 * @property {string} colour
 * @property {string} hex
 * @property {number} start
 * @property {number} width
 * @property {string} said
 *
 * @typedef {object} SaidSequence
 * @property {number} repeat
 * @property {boolean} is_even
 * @property {SaidBar[]} bars
 * @property {string | null} dominant
 *
 * @typedef {object} Tile
 * @property {number} width
 * @property {number} height
 * @property {[number, number, number, number, string][]} rects
 *
 * @typedef {object} ClothSaid
 * @property {string} title
 * @property {string} colour
 * @property {Tile} tile
 * @property {SaidSequence} warp
 * @property {SaidSequence} weft
 * @property {Record<string, Record<string, string>>} woven
 *
 * @typedef {[number, number, boolean, boolean]} PhaseSaid
 *
 * @typedef {object} Hold
 * @property {number} offset
 * @property {string} says
 *
 * @typedef {object} PieceSaid
 * @property {string} title
 * @property {string} cloth
 * @property {boolean} is_cut
 * @property {Record<string, string> | string[]} pinned
 * @property {Partial<Record<"upright" | "level", Hold>>} [hold]
 * @property {Partial<Record<"upright" | "level", Record<string, number> | string[]>>} [ties]
 *
 * @typedef {object} Seam
 * @property {string} join
 * @property {string} title
 * @property {string} a
 * @property {string} b
 * @property {string} importance
 * @property {string | null} [field]
 * @property {number | null} level
 * @property {number | null} upright
 * @property {string} said
 * @property {string} [miss]
 * @property {number} floor
 * @property {number} at
 * @property {string} summary
 * @property {boolean} misses
 *
 * @typedef {object} Report
 * @property {string} key
 * @property {string} title
 * @property {boolean} [provisional]
 * @property {string[]} views
 * @property {Record<string, ClothSaid>} cloths
 * @property {Record<string, PhaseSaid>} phases
 * @property {Record<string, PieceSaid>} pieces
 * @property {Seam[]} seams
 * @property {Seam | null} worst
 * @property {Finding[]} findings
 *
 * @typedef {object} Patch
 * @property {string} piece
 * @property {string} outline
 * @property {import("./weave.js").Grid} grid
 *
 * @typedef {object} Layer
 * @property {string} name
 * @property {string[]} grounds
 * @property {Patch[]} patches
 * @property {string[]} outlines
 * @property {string[]} lines
 * @property {[number, number, number][]} buttons
 *
 * @typedef {object} Picture
 * @property {string} view
 * @property {[number, number, number, number]} box
 * @property {Layer[]} layers
 * @property {Record<string, ([number, number] | null)[]>} seams
 *
 * @typedef {object} FlatPiece
 * @property {string} name
 * @property {string} title
 * @property {string} garment
 * @property {string} cloth
 * @property {string} hand
 * @property {[number, number, number, number]} box
 * @property {string} seam
 * @property {string} cutting
 * @property {[number, number, number, number, number, number]} matrix
 * @property {{name: string, path: string, stops: {name: string, at: [number, number]}[]}[]} edges
 * @property {{name: string, kind: string, path: string}[]} lines
 * @property {[number, number, number, number][]} notches
 * @property {{name: string, at: [number, number]}[]} marks
 * @property {[[number, number], [number, number]]} grain
 * @property {boolean} is_matched
 * @property {boolean} is_cut
 *
 * @typedef {object} Slide
 * @property {Record<string, PhaseSaid>} phases
 * @property {Seam[]} seams
 * @property {Seam | null} worst
 * @property {{bar: string, at: string, says: string, place: number} | null} snap
 * @property {Change[]} changes
 *
 * @typedef {object} Reckoning
 * @property {{name: string, title: string, lays_in: number, buy: number, says: string,
 *   parts: {what: string, length: number, said: string}[], price: number | null, said_price: string | null,
 *   in_hand: {fits: boolean, says: string} | null, layout: import("./parts/laid-cloth.js").Layout | null}[]} cloths
 * @property {Seam | null} worst
 * @property {{said: string, is_whole: boolean, lines: {title: string, how: string, said: string | null}[]} | null} price
 * @property {Finding[]} findings
 *
 * @typedef {object} HoursRow
 * @property {string} name
 * @property {string} field
 * @property {string} amount
 * @property {boolean} is_set
 * @property {string | null} said  what it comes to
 *
 * @typedef {object} HoursSaid
 * @property {string | null} said
 * @property {boolean} is_whole
 * @property {string} per
 * @property {string[]} blanks
 * @property {HoursRow[]} stitches
 * @property {HoursRow[]} each
 * @property {HoursRow[]} steps
 *
 * @typedef {object} Difference
 * @property {string} what
 * @property {string} title
 * @property {string} taken
 * @property {string} tried
 * @property {string} says
 * @property {boolean} same
 */

export {};
