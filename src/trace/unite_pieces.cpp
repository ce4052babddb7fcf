// SPDX-License-Identifier: Apache-2.0
#include "trace/unite_pieces.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "trace/regions.h"
#include "trace/section_frame.h"

namespace lidwright {
namespace {

constexpr std::size_t kMostPieces = 200;  // of one body: pairs are looked at
constexpr std::size_t kMostNamed = 6;     // in one note

// "polygon floor (line 3)".
std::string NameOf(const DrawnLoop& loop) {
  return loop.label + (loop.line > 0 ? " (line " + std::to_string(loop.line) + ")" : "");
}

bool BoxesWithin(const Ring& a, const Ring& b, double reach) {
  const Rect2 first = Bounds(a), second = Bounds(b);
  return (first.low.array() <= second.high.array() + reach).all() &&
         (second.low.array() <= first.high.array() + reach).all();
}

double LengthOf(const Ring& ring) {
  double length = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    length += (ring[(i + 1) % ring.size()] - ring[i]).norm();
  }
  return length;
}

// An outline with the hollows drawn in it.
struct Piece {
  const DrawnLoop* loop = nullptr;
  Region region;
  std::vector<Ring> rings;
};

// How far two pieces reach into each other, or stand apart, where `between` is what they share or
// what lies between them: for corners and middles of its edges the distance to the second nearest
// edge of a piece, at its greatest.
double Thickness_mm(const Region& between, const std::vector<const Piece*>& pieces, Vec2* at) {
  double thickness = 0.0;
  const auto ask = [&](const Vec2& p) {
    double nearest = 1e300, second = 1e300;
    for (const Piece* piece : pieces) {
      const double distance = std::abs(SignedDistance(piece->rings, p));
      second = std::min(second, std::max(nearest, distance));
      nearest = std::min(nearest, distance);
    }
    if (second > thickness) thickness = second, *at = p;
  };
  for (const Patch& patch : between.Patches()) {
    for (std::size_t i = 0; i < patch.outline.size(); ++i) {
      ask(patch.outline[i]);
      ask((patch.outline[i] + patch.outline[(i + 1) % patch.outline.size()]) / 2.0);
    }
  }
  return thickness;
}

class Uniter {
 public:
  Uniter(const std::vector<DrawnLoop>& loops, const std::string& body, double gap_limit_mm)
      : loops_(loops), body_(body), gap_limit_mm_(gap_limit_mm) {}

  UnitedPieces Unite() {
    for (const DrawnLoop& loop : loops_) out_.rings.push_back(loop.ring);
    if (loops_.size() < 2 || !MayBeUnited() || !FindPieces() || pieces_.size() < 2) {
      return std::move(out_);
    }
    TellOverlaps();
    std::vector<Region> regions;
    for (const Piece& piece : pieces_) regions.push_back(piece.region);
    const Region drawn = Union(regions);
    // Grown and shrunk by a hair: cracks of rounding between pieces that touch, and along bridges,
    // are gone.
    TakeResult(Grown(Grown(Union({drawn, Bridges(drawn)}), kUnited_mm), -kUnited_mm));
    if (!out_.problems.empty()) return std::move(out_);
    std::string list;
    for (std::size_t i = 0; i < std::min(pieces_.size(), kMostNamed); ++i) {
      list += (i == 0 ? ": " : ", ") + NameOf(*pieces_[i].loop);
    }
    if (pieces_.size() > kMostNamed) {
      list += " and " + std::to_string(pieces_.size() - kMostNamed) + " more";
    }
    out_.notes.insert(out_.notes.begin(),
                      body_ + ": united " + std::to_string(pieces_.size()) + " pieces" + list);
    return std::move(out_);
  }

 private:
  void Complain(const std::string& rule, const std::string& hint = "") {
    out_.problems.push_back({"", 0, body_, "", rule, hint});
  }

  bool MayBeUnited() {
    if (loops_.size() > kMostPieces) {
      Complain("has " + std::to_string(loops_.size()) + " closed outlines, more than " +
                   std::to_string(kMostPieces),
               "leave only the section in the drawing");
      return false;
    }
    if (const std::optional<Problem> fault = FaultOfEach(out_.rings)) {
      Complain(fault->rule, fault->hint);
      return false;
    }
    return true;
  }

  // Even ones in the order of nesting are pieces, odd ones hollows of the piece around them.
  bool FindPieces() {
    const std::size_t n = loops_.size();
    std::vector<Region> whole;
    for (const DrawnLoop& loop : loops_) whole.push_back(Region::Of(loop.ring, {}));
    std::vector<std::vector<std::size_t>> around(n);
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) {
        const Ring &inner = loops_[i].ring, &outer = loops_[j].ring;
        if (i == j || !BoxesWithin(inner, outer, 0.0)) continue;
        const double inner_mm2 = whole[i].Area_mm2(), outer_mm2 = whole[j].Area_mm2();
        if (inner_mm2 > outer_mm2 || (inner_mm2 == outer_mm2 && i < j)) continue;
        const double beyond_mm2 = Minus(whole[i], whole[j]).Area_mm2();
        if (beyond_mm2 <= kTouch_mm * LengthOf(inner) / 2.0) around[i].push_back(j);
      }
    }
    std::vector<std::vector<Ring>> hollows(n);
    for (std::size_t i = 0; i < n; ++i) {
      if (around[i].size() % 2 == 0) continue;
      const std::size_t parent = *std::max_element(
          around[i].begin(), around[i].end(),
          [&](std::size_t a, std::size_t b) { return around[a].size() < around[b].size(); });
      Vec2 at = Vec2::Zero();
      if (NearestTo(loops_[i].ring, loops_[parent].ring, &at) <= kTouch_mm) {
        Complain(NameOf(loops_[i]) + " lies within " + NameOf(loops_[parent]) +
                     " and touches its edge at " + PlaceText(at) + ": a hollow or a board?",
                 "draw what is wood: boards side by side, or one outline round them");
        return false;
      }
      hollows[parent].push_back(loops_[i].ring);
    }
    for (std::size_t i = 0; i < n; ++i) {
      if (around[i].size() % 2 == 1) continue;
      Piece piece{&loops_[i], Region::Of(loops_[i].ring, hollows[i]), std::move(hollows[i])};
      piece.rings.push_back(loops_[i].ring);
      pieces_.push_back(std::move(piece));
    }
    return true;
  }

  // Least distance of two boundaries, with a place on the first.
  static double NearestTo(const Ring& first, const Ring& second, Vec2* at) {
    if (RingsMeet(first, second, at)) return 0.0;
    double nearest = 1e300;
    const auto look = [&](const Ring& points, const Ring& edges, bool own) {
      for (const Vec2& p : points) {
        Vec2 foot;
        const double distance = std::abs(SignedDistance({edges}, p, &foot));
        if (distance < nearest) nearest = distance, *at = own ? p : foot;
      }
    };
    look(first, second, true);
    look(second, first, false);
    return nearest;
  }

  void TellOverlaps() {
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      for (std::size_t j = i + 1; j < pieces_.size(); ++j) {
        const Piece &a = pieces_[i], &b = pieces_[j];
        if (!BoxesWithin(a.loop->ring, b.loop->ring, 0.0)) continue;
        const Region common = Common(a.region, b.region);
        if (common.Area_mm2() <= kTouch_mm * common.Edge_mm() / 2.0) continue;
        Vec2 at = Vec2::Zero();
        const double width = Thickness_mm(common, {&a, &b}, &at);
        Tell(NameOf(*a.loop) + " and " + NameOf(*b.loop) + " overlap by up to " + Text(width, 3) +
             " mm (" + Text(common.Area_mm2(), 2) + " mm2) at " + PlaceText(at));
      }
    }
  }

  // What lies between two pieces and nowhere farther from both than half the limit: grown by that
  // much they meet there, and shrunk back everything else is as it was. Sharp corners of the
  // growing bring corners back where they were drawn.
  Region Bridges(const Region& drawn) {
    const double half = (gap_limit_mm_ + kTouch_mm) / 2.0;
    const Region closed = Grown(Grown(drawn, half), -half);
    std::vector<Region> bridges;
    // Less a hair along the pieces, so that slivers of rounding do not link one gap with the next.
    for (const Patch& patch : Minus(closed, Grown(drawn, kUnited_mm / 2.0)).Patches()) {
      const Region gap = Region::Of(patch.outline, patch.holes);
      std::vector<const Piece*> beside;
      for (const Piece& piece : pieces_) {
        if (BoxesWithin(piece.loop->ring, patch.outline, kUnited_mm) &&
            Apart_mm(gap, piece.region) <= kUnited_mm) {
          beside.push_back(&piece);
        }
      }
      if (beside.size() < 2) continue;  // a groove in one board
      bridges.push_back(gap);
      Vec2 at = Vec2::Zero();
      const double width = Thickness_mm(gap, beside, &at);
      if (width <= kTouch_mm) continue;
      Tell("a gap of up to " + Text(width, 3) + " mm between " + NameOf(*beside[0]->loop) +
           " and " + NameOf(*beside[1]->loop) + " bridged at " + PlaceText(at));
    }
    return Union(bridges);
  }

  void TakeResult(const Region& united) {
    std::vector<Patch> patches = united.Patches();
    patches.erase(std::remove_if(patches.begin(), patches.end(),
                                 [](const Patch& patch) {
                                   return Region::Of(patch.outline, patch.holes).Negligible();
                                 }),
                  patches.end());
    if (patches.size() > 1) return TellLonePieces(patches);
    std::vector<Vec2> drawn;
    for (const DrawnLoop& loop : loops_)
      drawn.insert(drawn.end(), loop.ring.begin(), loop.ring.end());
    const GivenPoints given(std::move(drawn));
    out_.rings.clear();
    for (const Patch& patch : patches) {
      out_.rings.push_back(Cleaned(patch.outline, given));
      for (const Ring& hole : patch.holes) {
        // Pinholes between pieces: no wider than some thousandths, or only rounding.
        const double pinhole_mm2 = kTouch_mm * (LengthOf(hole) + kTouch_mm);
        if (std::abs(SignedArea(hole)) > pinhole_mm2) out_.rings.push_back(Cleaned(hole, given));
      }
    }
  }

  // The largest patch is taken as the body; what does not hang together with it is named.
  void TellLonePieces(const std::vector<Patch>& patches) {
    std::vector<Region> parts;
    for (const Patch& patch : patches) parts.push_back(Region::Of(patch.outline, patch.holes));
    const auto largest = std::max_element(parts.begin(), parts.end(),
                                          [](const Region& a, const Region& b) {
                                            return a.Area_mm2() < b.Area_mm2();
                                          }) -
                         parts.begin();
    std::vector<bool> told(parts.size(), false);
    for (const Piece& piece : pieces_) {
      std::size_t part = 0;
      while (part < parts.size() && Common(piece.region, parts[part]).Negligible()) ++part;
      if (part == parts.size() || part == static_cast<std::size_t>(largest) || told[part]) continue;
      told[part] = true;
      std::vector<Region> others = parts;
      others.erase(others.begin() + static_cast<std::ptrdiff_t>(part));
      Vec2 at = Vec2::Zero();
      const double apart = Apart_mm(parts[part], Union(others), &at);
      if (apart <= 10.0 * kUnited_mm) {
        Complain(
            NameOf(*piece.loop) + " meets the other pieces only in a point, at " + PlaceText(at),
            "draw pieces that touch along an edge or overlap");
        continue;
      }
      Complain(NameOf(*piece.loop) + " stands " + Text(apart, 3) +
                   " mm apart from the other pieces at " + PlaceText(at),
               "gaps up to " + Text(gap_limit_mm_, 3) +
                   " mm are bridged; move it up to them, or, where the section goes through an "
                   "opening, draw it beside that");
    }
  }

  // Rounding leaves corners a hair off the drawn ones, and glue lines leave points along edges.
  static Ring Cleaned(const Ring& ring, const GivenPoints& given) {
    Ring exact;
    for (const Vec2& p : ring) {
      const Vec2 place = given.At(p);
      if (exact.empty() || exact.back() != place) exact.push_back(place);
    }
    while (exact.size() > 1 && exact.back() == exact.front()) exact.pop_back();
    if (exact.size() < 3) return exact;
    // The point farthest from some place is a true corner: begin there.
    const Vec2 first = exact[0];
    std::rotate(exact.begin(),
                std::max_element(exact.begin(), exact.end(),
                                 [&](const Vec2& p, const Vec2& q) {
                                   return (p - first).norm() < (q - first).norm();
                                 }),
                exact.end());
    // A point that is dropped stays near the edge that replaces it, and so does each before it.
    Ring kept{exact[0]};
    std::vector<Vec2> dropped;
    for (std::size_t i = 1; i < exact.size(); ++i) {
      dropped.push_back(exact[i]);
      const Vec2 &before = kept.back(), &after = exact[(i + 1) % exact.size()];
      const bool needless = std::all_of(dropped.begin(), dropped.end(), [&](const Vec2& p) {
        return (NearestOnSegment(p, before, after) - p).norm() <= kUnited_mm;
      });
      if (needless) continue;
      kept.push_back(exact[i]);
      dropped.clear();
    }
    return kept;
  }

  void Tell(const std::string& note) { out_.notes.push_back(body_ + ": " + note); }

  const std::vector<DrawnLoop>& loops_;
  const std::string& body_;
  double gap_limit_mm_;
  std::vector<Piece> pieces_;
  UnitedPieces out_;
};

}  // namespace

UnitedPieces UnitePieces(const std::vector<DrawnLoop>& loops, const std::string& body,
                         double gap_limit_mm) {
  try {
    return Uniter(loops, body, gap_limit_mm).Unite();
  } catch (const std::runtime_error& error) {
    UnitedPieces out;
    out.problems.push_back({"", 0, body, "", "its pieces cannot be united",
                            std::string("the polygon library says: ") + error.what()});
    return out;
  }
}

}  // namespace lidwright
