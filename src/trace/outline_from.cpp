// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <tuple>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"
#include "trace/drawing.h"
#include "trace/join_paths.h"
#include "trace/regions.h"
#include "trace/section_frame.h"
#include "trace/sort_loops.h"
#include "trace/unite_pieces.h"

namespace lidwright {
namespace {

const char* const kUnitHint = "say the unit, or the true width or height of what is drawn";

// The box around all paths to a thousandth: to see how large the drawing is, not to scale by.
Rect2 BoundsOf(const std::vector<DrawnPath>& paths) {
  Rect2 rough, box;
  for (const DrawnPath& path : paths) {
    for (const Vec2& p : Flatten(path, 1e300)) rough.Add(p);
  }
  const double size = std::max((rough.high - rough.low).maxCoeff(), 1e-9);
  for (const DrawnPath& path : paths) {
    for (const Vec2& p : Flatten(path, 1e-3 * size)) box.Add(p);
  }
  return box;
}

// Stations are matched vertex by vertex, so all rings begin at their lower back corner.
void StartAtLowerBack(Ring* ring) {
  const auto first = std::min_element(ring->begin(), ring->end(), [](const Vec2& p, const Vec2& q) {
    return p.x() + p.y() < q.x() + q.y();
  });
  std::rotate(ring->begin(), first, ring->end());
}

std::vector<FlatPath> FlatPaths(const std::vector<DrawnPath>& paths, double mm_per_unit,
                                double error_mm) {
  std::vector<FlatPath> flat;
  for (const DrawnPath& path : paths) {
    double off = 0.0;
    std::vector<Vec2> points = Flatten(path, error_mm / mm_per_unit, &off);
    FlatPath out{std::move(points), path.closed, path.names,
                 path.label,        path.line,   off * mm_per_unit};
    for (Vec2& p : out.points) p *= mm_per_unit;
    flat.push_back(std::move(out));
  }
  return flat;
}

// A body in one piece: its outline is its largest ring, the others are hollows.
Region BodyOf(const std::vector<Ring>& rings) {
  const auto outline = std::max_element(rings.begin(), rings.end(), [](auto& a, auto& b) {
    return std::abs(SignedArea(a)) < std::abs(SignedArea(b));
  });
  std::vector<Ring> holes;
  for (auto ring = rings.begin(); ring != rings.end(); ++ring) {
    if (ring != outline) holes.push_back(*ring);
  }
  return Region::Of(*outline, holes);
}

class Tracer {
 public:
  Tracer(Drawing drawing, const TraceOptions& options)
      : drawing_(std::move(drawing)), options_(options) {
    out_.notes = std::move(drawing_.notes);
    out_.problems = std::move(drawing_.problems);
  }

  TracedOutline Trace() {
    if (!out_.problems.empty()) return std::move(out_);
    if (drawing_.paths.empty()) {
      Complain("", "there is nothing in it that could be an outline");
      return std::move(out_);
    }
    if (!FindUnit()) return std::move(out_);
    // The known size is that of case and lid, which must be told apart to be measured; finely,
    // since the chords of a curve fall short of its crest.
    for (int i = 0; SizeIsKnown() && i < 2; ++i) {
      SortIntoBodies(options_.chord_error_mm / 50.0);
      if (!out_.problems.empty()) {
        out_.notes.insert(out_.notes.end(), sorted_.notes.begin(), sorted_.notes.end());
        return std::move(out_);
      }
      Rect2 box;
      for (const auto* loops : {&sorted_.case_loops, &sorted_.lid_loops}) {
        for (const DrawnLoop& loop : *loops) {
          for (const Vec2& p : loop.ring) box.Add(p);
        }
      }
      const Vec2 size = box.high - box.low;
      out_.mm_per_unit *=
          KnowsWidth() ? options_.known_width_mm / size.x() : options_.known_height_mm / size.y();
    }
    SortIntoBodies(options_.chord_error_mm);
    out_.notes.insert(out_.notes.end(), sorted_.notes.begin(), sorted_.notes.end());
    if (out_.problems.empty()) Unite();
    if (SizeIsKnown()) {
      out_.notes.push_back("unit: " + Text(out_.mm_per_unit, 6) + " mm, from the true size");
    }
    if (out_.problems.empty()) Check();
    if (out_.problems.empty()) MoveIntoFrame();
    if (out_.notes.size() > kMostProblems) {
      const std::size_t more = out_.notes.size() - kMostProblems;
      out_.notes.resize(kMostProblems);
      out_.notes.push_back("and " + std::to_string(more) + " more notes");
    }
    return std::move(out_);
  }

 private:
  bool KnowsWidth() const { return !std::isnan(options_.known_width_mm); }
  bool SizeIsKnown() const { return KnowsWidth() || !std::isnan(options_.known_height_mm); }

  void Complain(const std::string& place, const std::string& rule, const std::string& hint = "") {
    out_.problems.push_back({options_.file_name, 0, place, "", rule, hint});
  }

  bool FindUnit() {
    const Rect2 box = BoundsOf(drawing_.paths);
    const Vec2 size = box.high - box.low;
    if (!box.low.allFinite() || !box.high.allFinite() || !(size.maxCoeff() > 0.0)) {
      Complain("", "the drawing has no size");
      return false;
    }
    const double farthest = std::max(box.low.cwiseAbs().maxCoeff(), box.high.cwiseAbs().maxCoeff());
    if (size.maxCoeff() < 1e-6 * farthest) {
      Complain("", "what is drawn is a millionth as large as it is far from the drawing's origin");
      return false;
    }
    if (SizeIsKnown()) {
      // A first guess from all that is drawn; put right once case and lid are known.
      const double all = KnowsWidth() ? size.x() : size.y();
      const double known = KnowsWidth() ? options_.known_width_mm : options_.known_height_mm;
      out_.mm_per_unit = known / std::max(all, 1e-6 * size.maxCoeff());
      return true;
    }
    const bool said = !std::isnan(options_.mm_per_unit);
    out_.mm_per_unit = said ? options_.mm_per_unit : drawing_.mm_per_unit;
    if (std::isnan(out_.mm_per_unit)) {
      Complain("", "the drawing does not say its unit",
               "in mm what is drawn would be " + Text(size.x(), 1) + " mm wide, in inches " +
                   Text(size.x() * kMmPerInch, 1) + " mm; " + kUnitHint);
      return false;
    }
    // Too small for a box whatever else is in it; or so large that chords would have no end.
    const double size_mm = out_.mm_per_unit * size.maxCoeff();
    if (size_mm < kShallowestBox_mm || size_mm > 1e6) {
      if (std::optional<Problem> doubt = DepthSuspicion(size_mm, options_.file_name, kUnitHint)) {
        doubt->rule = "all that is drawn would be " + Text(size_mm, 3) + " mm in size";
        out_.problems.push_back(std::move(*doubt));
      }
      return false;
    }
    out_.notes.push_back("unit: " + Text(out_.mm_per_unit, 6) + " mm, " +
                         (said ? "as you say" : "from " + drawing_.unit_said));
    return true;
  }

  void SortIntoBodies(double error_mm) {
    std::vector<FlatPath> paths = FlatPaths(drawing_.paths, out_.mm_per_unit, error_mm);
    std::size_t points = 0;
    for (const FlatPath& path : paths) points += path.points.size();
    if (points > kMostDrawnPoints) {
      Complain("", "its curves take more than " + std::to_string(kMostDrawnPoints) + " chords",
               "leave only the section in it");
      return;
    }
    sorted_ = SortLoops(std::move(paths), options_);
    out_.problems = std::move(sorted_.problems);
  }

  void Unite() {
    for (const auto& [name, loops, rings] :
         {std::tuple("case", &sorted_.case_loops, &out_.case_rings),
          std::tuple("lid", &sorted_.lid_loops, &out_.lid_rings)}) {
      for (const DrawnLoop& loop : *loops) {
        out_.chord_error_mm = std::max(out_.chord_error_mm, loop.chord_error_mm);
      }
      UnitedPieces united = UnitePieces(*loops, name, options_.gap_limit_mm);
      *rings = std::move(united.rings);
      out_.notes.insert(out_.notes.end(), united.notes.begin(), united.notes.end());
      for (Problem& problem : united.problems) {
        problem.file = options_.file_name;
        out_.problems.push_back(std::move(problem));
      }
    }
  }

  template <typename Move>
  void MoveRings(const Move& move) {
    for (auto* rings : {&out_.case_rings, &out_.lid_rings}) {
      for (Ring& ring : *rings) {
        for (Vec2& p : ring) p = move(p);
      }
    }
  }

  void MoveIntoFrame() {
    if (options_.back == BackSide::kRight)
      MoveRings([](const Vec2& p) { return Vec2(-p.x(), p.y()); });
    TurnByNesting(&out_.case_rings);
    TurnByNesting(&out_.lid_rings);
    const double bottom = Bounds(out_.case_rings).low.y();
    Vec2& origin = out_.origin_mm;
    if (options_.origin_mm) {
      origin = *options_.origin_mm;
    } else if (std::isnan(options_.rim_mm)) {
      origin = RearRim(out_.case_rings);
      out_.notes.push_back("rim found " + Text(origin.y() - bottom) +
                           " mm above the case's bottom");
    } else {
      // The face just below the rim, where there is one for sure.
      const double y = bottom + options_.rim_mm;
      const std::optional<double> x = RearFaceAt(out_.case_rings, y - kTouch_mm);
      if (!x) {
        Complain("case",
                 "does not reach up to the rim, " + Text(options_.rim_mm) + " mm above its bottom");
        return;
      }
      origin = {*x, y};
    }
    MoveRings([&](const Vec2& p) { return Vec2(p - origin); });
    for (auto* rings : {&out_.case_rings, &out_.lid_rings}) {
      for (Ring& ring : *rings) StartAtLowerBack(&ring);
    }
  }

  // Before the outlines are moved, so that places are those of the drawing.
  void Check() {
    const Rect2 box = Bounds(out_.case_rings), lid = Bounds(out_.lid_rings);
    if (auto problem = DepthSuspicion(box.high.x() - box.low.x(), options_.file_name, kUnitHint)) {
      out_.problems.push_back(std::move(*problem));
      return;
    }
    for (const auto& [name, rings] :
         {std::pair("case", &out_.case_rings), std::pair("lid", &out_.lid_rings)}) {
      if (std::optional<Problem> fault = FaultOfRings(*rings)) {
        fault->file = options_.file_name;
        fault->place = name;
        out_.problems.push_back(std::move(*fault));
      }
    }
    if (!out_.problems.empty()) return;
    if (lid.high.y() < (box.low.y() + box.high.y()) / 2.0) {
      Complain("lid", "lies below the case", "are the names of case and lid swapped?");
      return;
    }
    const double shared = std::min(box.high.x(), lid.high.x()) - std::max(box.low.x(), lid.low.x());
    const double narrower = std::min(box.high.x() - box.low.x(), lid.high.x() - lid.low.x());
    if (shared < 0.5 * narrower) {
      Complain("lid",
               "stands beside the case: it lies over " + Text(std::max(shared, 0.0), 1) +
                   " mm of it from back to front",
               "draw the lid shut, resting on the case");
      return;
    }
    const Seam seam = SeamOf(out_.case_rings, out_.lid_rings);
    if (seam.overlap_mm > kBlendError_mm) {
      Complain("lid",
               "overlaps the case by " + Text(seam.overlap_mm, 2) + " mm at " +
                   PlaceText(seam.overlap_at),
               "draw the lid shut, resting on the case");
    } else if (CoversCase()) {
      Complain("lid", "is drawn where the case is", "draw the lid shut, resting on the case");
    } else if (seam.gap_mm > kLargestSeam_mm) {
      Complain("lid",
               "floats: it comes no nearer to the case than " + Text(seam.gap_mm, 1) + " mm, at " +
                   PlaceText(seam.gap_at),
               "draw the lid shut, resting on the case");
    } else if (seam.overlap_mm > kTouch_mm) {
      out_.notes.push_back("the lid stands " + Text(seam.overlap_mm) +
                           " mm into the case, taken as resting on it");
    } else if (seam.gap_mm > kTouch_mm) {
      out_.notes.push_back("the lid stands " + Text(seam.gap_mm) + " mm off the case: a seam gap");
    }
  }

  // Outlines that run along each other, as one drawn twice does, cross nowhere and have no point
  // within each other.
  bool CoversCase() const {
    const Region both = Common(BodyOf(out_.case_rings), BodyOf(out_.lid_rings));
    return both.Area_mm2() > kBlendError_mm * both.Edge_mm();
  }

  Drawing drawing_;
  const TraceOptions& options_;
  TracedOutline out_;
  SortedLoops sorted_;
};

void CheckOptions(const TraceOptions& o) {
  const auto good = [](double x) { return std::isnan(x) || (std::isfinite(x) && x > 0.0); };
  LW_REQUIRE(good(o.mm_per_unit) && good(o.known_width_mm) && good(o.known_height_mm),
             "mm_per_unit=" << o.mm_per_unit << " width=" << o.known_width_mm
                            << " height=" << o.known_height_mm);
  LW_REQUIRE(good(o.rim_mm) && !(o.origin_mm && !std::isnan(o.rim_mm)), "rim_mm=" << o.rim_mm);
  const int given =
      !std::isnan(o.mm_per_unit) + !std::isnan(o.known_width_mm) + !std::isnan(o.known_height_mm);
  LW_REQUIRE(given <= 1, "given=" << given);
  LW_REQUIRE(o.chord_error_mm > 0.0 && o.gap_limit_mm >= 0.0,
             "chord_error=" << o.chord_error_mm << " gap_limit=" << o.gap_limit_mm);
}

// What would take the reader's time and memory without end.
std::optional<TracedOutline> Refused(const std::string& text, const TraceOptions& options) {
  std::string rule;
  if (text.empty()) rule = "the file is empty";
  if (text.size() > kLargestDrawing_bytes) {
    rule = "the file is larger than " + std::to_string(kLargestDrawing_bytes >> 20) + " MB";
  }
  if (rule.empty()) return std::nullopt;
  TracedOutline out;
  out.problems.push_back({options.file_name, 0, "", "", rule, ""});
  return out;
}

}  // namespace

TracedOutline OutlineFrom(Drawing drawing, const TraceOptions& options) {
  return Tracer(std::move(drawing), options).Trace();
}

TracedOutline TraceSvg(const std::string& text, const TraceOptions& options) {
  CheckOptions(options);
  if (auto refused = Refused(text, options)) return *refused;
  return OutlineFrom(ReadSvg(text, options.file_name), options);
}

TracedOutline TraceDxf(const std::string& text, const TraceOptions& options) {
  CheckOptions(options);
  if (auto refused = Refused(text, options)) return *refused;
  return OutlineFrom(ReadDxf(text, options.file_name), options);
}

}  // namespace lidwright
