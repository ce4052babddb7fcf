// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <random>
#include <string>
#include <tuple>
#include <vector>

#include "lidwright/design/make_design.h"
#include "lidwright/design/names.h"
#include "oracle/outside.h"

namespace lidwright::testing {

/// One bound of a certificate beside what was seen from outside.
struct Compared {
  std::string what;
  double bound = 0.0, seen = 0.0;
  double Over() const { return bound - seen; }
};

/// Compares every bound of a hinge with what is seen from outside.
class OutsideCertifier {
 public:
  struct Options {
    int angles = 1000;
    int widths = 10;        ///< places across the width for lid and case, besides faces of walls
    double apart_mm = 0.8;  ///< points along rims, before a closer look
    unsigned seed = 1;
  };

  OutsideCertifier(const Job& job, const Options& options)
      : job_(job), options_(options), truth_(job) {
    const CaseMeasures& c = job.case_form;
    const LidMeasures& l = job.lid;
    const double out = std::max(0.0, std::max(c.back_bow_mm, c.front_bow_mm)) + l.lip_mm + 12.0 +
                       std::abs(c.back_cup_mm) + std::abs(c.front_cup_mm) +
                       (l.lip_mm > 0.0 ? l.lip_play_mm + l.lip_wall_mm : 0.0);
    around_.Add(Vec2(-out, -c.height_mm - 1.0));
    around_.Add(Vec2(c.depth_mm + out, l.rim_mm + std::max(l.crown_mm, l.crown_at_ends_mm) +
                                           std::abs(c.rim_arch_mm) + std::abs(c.rim_arch_side_mm) +
                                           5.0));
    // Spread over the half width, and beside every face across it.
    std::mt19937 random(options.seed);
    const double end = truth_.LidEnd(), beside = 1e-3;
    for (int i = 0; i < options.widths; ++i) {
      widths_.push_back((i + (static_cast<double>(random()) + 0.5) * 0x1p-32) * end /
                        options.widths);
    }
    const double half = c.width_mm / 2.0;
    for (const double face : {truth_.Face(), half, truth_.TongueFrom(), truth_.TongueTo(),
                              half - l.wall_mm, truth_.LidEnd()}) {
      for (const double z : {face - beside, face + beside}) {
        if (z > 0.0 && z < end) widths_.push_back(z);
      }
    }
  }

  std::vector<Compared> Compare(const Hinge& hinge) {
    found_.clear();
    const FourBarOutside bar(hinge.pivots);
    Lid(hinge, bar);
    if (hinge.arm_a && hinge.arm_b) Arms(hinge, bar);
    if (hinge.parts) Pieces(*hinge.parts, bar);
    return found_;
  }

 private:
  using Key = std::tuple<bool, long>;
  // Lid or case at |z|; sections are kept for other hinges.
  const Looked& Wood(bool lid, double z) {
    std::unique_ptr<Looked>& kept = wood_[{lid, std::lround(std::abs(z) * 1e4)}];
    if (!kept) {
      kept = std::make_unique<Looked>(std::make_shared<WoodAt>(truth_, lid, std::abs(z), around_),
                                      options_.apart_mm);
    }
    return *kept;
  }

  Angles Whole() const { return {0.0, job_.swing.open_rad, options_.angles}; }

  static const Verdict* Bounded(const Verdicts& verdicts, Requirement what,
                                Member of = Member::kNone) {
    for (const Verdict& v : verdicts) {
      if (v.what == what && v.of == of && v.found) return &v;
    }
    return nullptr;
  }
  void Take(const Verdict& verdict, double seen) {
    found_.push_back({NameOf(verdict), *verdict.found, seen});
  }

  double LeftAround(const Looked& mover, const Relative& in_case, bool bench, bool room) const {
    double least = 1e300;
    if (room && std::isfinite(job_.room.behind_mm)) {
      least = std::min(least,
                       LeastBefore(mover, in_case, Whole(), Vec2(1.0, 0.0), -job_.room.behind_mm));
    }
    if (room && std::isfinite(job_.room.above_mm)) {
      least = std::min(least,
                       LeastBefore(mover, in_case, Whole(), Vec2(0.0, -1.0), -job_.room.above_mm));
    }
    if (bench && job_.room.bench_below) {
      least = std::min(
          least, LeastBefore(mover, in_case, Whole(), Vec2(0.0, 1.0), -job_.case_form.height_mm));
    }
    return least;
  }

  void Lid(const Hinge& hinge, const FourBarOutside& bar) {
    const Relative in_case = [&](double theta) { return bar.Of(Body::kLid, theta); };
    const Verdict* to_case = Bounded(hinge.verdicts, Requirement::kLidToCase);
    const Verdict* to_room = Bounded(hinge.verdicts, Requirement::kLidToRoom);
    const Verdict* to_bench = Bounded(hinge.verdicts, Requirement::kLidToBench);
    double near = 1e300, room = 1e300, bench = 1e300;
    for (const double z : widths_) {
      const Looked& lid = Wood(true, z);
      if (to_case) {
        const Angles moving{job_.swing.gap_from_rad, job_.swing.open_rad, options_.angles};
        near = std::min(near, NearestSeen(lid, Wood(false, z), in_case, moving).gap);
      }
      if (to_room) room = std::min(room, LeftAround(lid, in_case, false, true));
      if (to_bench) bench = std::min(bench, LeftAround(lid, in_case, true, false));
    }
    if (to_case) Take(*to_case, near);
    if (to_room) Take(*to_room, room);
    if (to_bench) Take(*to_bench, bench);
  }

  // What a piece between two z meets of lid and case: at its ends and in its middle.
  double ToWood(const Looked& piece, Body body, double z0, double z1, bool lid,
                const FourBarOutside& bar) {
    const Body wood = lid ? Body::kLid : Body::kCase;
    const Relative relative = [&](double theta) {
      return bar.Of(wood, theta).Inverse() * bar.Of(body, theta);
    };
    double least = 1e300;
    for (const double z : {z0 + 1e-3, (z0 + z1) / 2.0, z1 - 1e-3}) {
      if (z > (lid ? truth_.LidEnd() : job_.case_form.width_mm / 2.0)) continue;
      least = std::min(least, NearestSeen(piece, Wood(lid, z), relative, Whole()).gap);
    }
    return least;
  }

  void Arms(const Hinge& hinge, const FourBarOutside& bar) {
    for (const auto& [arm, body, member] : {std::tuple(&*hinge.arm_a, Body::kArmA, Member::kArmA),
                                            {&*hinge.arm_b, Body::kArmB, Member::kArmB}}) {
      const Looked seen(std::make_shared<PieceOutside>(arm->outline), 0.25);
      const Verdict* v = Bounded(hinge.verdicts, Requirement::kArmToCase, member);
      if (v) Take(*v, ToWood(seen, body, arm->z_min_mm, arm->z_max_mm, false, bar));
      v = Bounded(hinge.verdicts, Requirement::kArmToLid, member);
      if (v) Take(*v, ToWood(seen, body, arm->z_min_mm, arm->z_max_mm, true, bar));
      v = Bounded(hinge.verdicts, Requirement::kArmToAround, member);
      if (v) {
        Take(*v, LeftAround(
                     seen, [&, b = body](double theta) { return bar.Of(b, theta); }, true, true));
      }
    }
    if (const Verdict* v = Bounded(hinge.verdicts, Requirement::kArmToArm)) {
      const Looked a(std::make_shared<PieceOutside>(hinge.arm_a->outline), 0.25);
      const Looked b(std::make_shared<PieceOutside>(hinge.arm_b->outline), 0.25);
      const Relative relative = [&](double theta) {
        return bar.Of(Body::kArmB, theta).Inverse() * bar.Of(Body::kArmA, theta);
      };
      Take(*v, NearestSeen(a, b, relative, Whole()).gap);
    }
  }

  // Joints, and the stop with what it stops: known by what they are called and are there for.
  static bool MeantToMeet(const HingeSet& set, const HingePiece& a, const HingePiece& b) {
    for (const auto& [p, q] : {std::pair(&a, &b), {&b, &a}}) {
      if (p->kind == PieceKind::kBushing || p->kind == PieceKind::kJig) return true;
      const bool goes_round = p->kind == PieceKind::kPin || p->kind == PieceKind::kWasher ||
                              p->kind == PieceKind::kSpacer;
      if (goes_round && q->kind == PieceKind::kArm && p->name.find(q->name) != std::string::npos) {
        return true;
      }
      if (p->kind == PieceKind::kStop && set.stop && q->body == set.stop->stops &&
          (q->kind == PieceKind::kArm || q->kind == PieceKind::kLidPlate)) {
        return true;
      }
    }
    return false;
  }

  void Pieces(const HingeSet& set, const FourBarOutside& bar) {
    std::map<Member, double> to_box, to_parts;
    const auto lower = [](std::map<Member, double>& all, Member of, double gap) {
      const auto [at, fresh] = all.try_emplace(of, gap);
      if (!fresh) at->second = std::min(at->second, gap);
    };
    std::vector<std::unique_ptr<Looked>> seen;
    for (const HingePiece& piece : set.pieces) {
      seen.push_back(std::make_unique<Looked>(std::make_shared<PieceOutside>(piece.outline), 0.25));
    }
    for (std::size_t i = 0; i < set.pieces.size(); ++i) {
      const HingePiece& p = set.pieces[i];
      if (p.kind == PieceKind::kBushing || p.kind == PieceKind::kJig) continue;
      const Relative in_case = [&](double theta) { return bar.Of(p.body, theta); };
      if (p.kind != PieceKind::kArm) {
        if (p.body != Body::kCase) {
          lower(to_box, p.member, ToWood(*seen[i], p.body, p.z_min_mm, p.z_max_mm, false, bar));
          lower(to_box, p.member, LeftAround(*seen[i], in_case, true, true));
        }
        if (p.body != Body::kLid) {
          lower(to_box, p.member, ToWood(*seen[i], p.body, p.z_min_mm, p.z_max_mm, true, bar));
        }
      }
      for (std::size_t j = i + 1; j < set.pieces.size(); ++j) {
        const HingePiece& q = set.pieces[j];
        if (q.body == p.body || MeantToMeet(set, p, q)) continue;
        if (p.kind == PieceKind::kArm && q.kind == PieceKind::kArm) continue;
        if (std::max(p.z_min_mm, q.z_min_mm) >= std::min(p.z_max_mm, q.z_max_mm) - 1e-9) continue;
        const Relative relative = [&](double theta) {
          return bar.Of(q.body, theta).Inverse() * bar.Of(p.body, theta);
        };
        lower(to_parts, p.member, NearestSeen(*seen[i], *seen[j], relative, Whole()).gap);
      }
    }
    for (const Verdict& v : set.verdicts) {
      if (!v.found) continue;
      const auto& all = v.what == Requirement::kPartToBox ? to_box : to_parts;
      if (v.what != Requirement::kPartToBox && v.what != Requirement::kPartToParts) continue;
      if (const auto at = all.find(v.of); at != all.end()) Take(v, at->second);
    }
  }

  const Job job_;
  const Options options_;
  const BoxTruth truth_;
  Rect2 around_;
  std::vector<double> widths_;
  std::map<Key, std::unique_ptr<Looked>> wood_;
  std::vector<Compared> found_;
};

/// Pivots to look at: the best of a brief search, the same spoilt a little, and some at random.
inline std::vector<Pivots> PivotsToLookAt(const BoxModel& box, int searched, int spoilt, int random,
                                          unsigned seed) {
  std::mt19937_64 dice(seed);
  const auto draw = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(dice() >> 11) * 0x1p-53;
  };
  SearchOptions options;
  options.starts = 4'000;
  options.descents = 2 * searched;
  options.on_grid = searched;
  std::vector<Pivots> all;
  const LidUse use = LidUseOf(box.job, box.solid);
  for (const GridLid& lid :
       LidSearch(box.job, box.solid, box.task, use, 0.3).Round(0, options).lids) {
    if (static_cast<int>(all.size()) < searched) all.push_back(PivotsOf(lid.x.data()));
  }
  for (int i = 0, n = static_cast<int>(all.size()); i < std::min(n, spoilt); ++i) {
    Pivots p = all[static_cast<std::size_t>(i)];
    p.lid_a += Vec2(draw(-1.5, 1.5), draw(-1.5, 1.5));
    p.case_b += Vec2(draw(-1.5, 1.5), draw(-1.5, 1.5));
    all.push_back(p);
  }
  const auto in = [&](const Zone& zone) {
    const double x = draw(zone.low.x(), zone.high.x());
    return Vec2(x, draw(zone.low.y(), zone.high.y()));
  };
  for (int i = 0; i < random; ++i) {
    const Vec2 ca = in(box.task.case_zone), cb = in(box.task.case_zone);
    const Vec2 la = in(box.task.lid_zone), lb = in(box.task.lid_zone);
    all.push_back({ca, cb, la, lb});
  }
  return all;
}

/// Does the lid open far enough on these?
inline bool Opens(const BoxModel& box, const Pivots& pivots) {
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  return motion && motion->Range().high_rad > box.job.swing.open_rad + 1e-3;
}

}  // namespace lidwright::testing
