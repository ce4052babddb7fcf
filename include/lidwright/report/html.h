// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/cutting/cutter_check.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/design/design.h"

namespace lidwright {

/// A file that stands beside the report, and what it is for.
struct ReportLink {
  std::string file;  ///< relative to the report
  std::string says;
};

/// What making and nesting the drawn hinge's parts came to.
struct PartsFound {
  PartsList list;
  std::vector<CutFault> cut_faults;
};

struct ReportLinks {
  std::vector<ReportLink> files;  ///< in the order they are shown
  std::string version;            ///< of the program that made the report
  PartsFound parts{};
  std::string job_file{};  ///< the job's own file, for lines to copy; empty: not known
};

/// The whole result as one self-contained HTML page for the maker: what clears, by how much and
/// where; how the lid feels; what to watch; the swing as a section and as a turnable solid under
/// one slider, with the tightest spots and curves of gap and lift; every requirement; the hinges
/// side by side; the plain hinge's verdict with its map; where the pivots go; files, job, version.
/// For no hinge: why, by how much, and what would let one in, over the box as understood.
///
/// The page asks nothing of any network (its own policy forbids it) and works without a pointer,
/// without colour, in dark and light, from 360 px up and on paper. Without scripts the text and the
/// tables remain. At most 1.5 MB: outlines of more than kMostPagePoints points are thinned, and the
/// page says by how much.
///
/// The drawn poses and curves are samples, at most kPageStep_rad apart, of the same LidMotion and
/// the same clearance code that the verdicts are certified with; the page calls them sampled.
/// Same design and links, same bytes.
std::string ReportHtml(const Design& design, const ReportLinks& links);

}  // namespace lidwright
