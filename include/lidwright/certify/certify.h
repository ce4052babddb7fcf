// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <stop_token>
#include <vector>

#include "lidwright/certify/assembly.h"
#include "lidwright/certify/gap_rules.h"

namespace lidwright {

/// A pose wished for: at `angle_rad` the lid's point, given shut, is within `within_mm` of `at`.
struct PoseLimit {
  double angle_rad = 0.0;
  Vec2 at = Vec2::Zero(), point = Vec2::Zero();
  double within_mm = 0.0;
};

/// The numbers that the requirements are held to. Lengths in mm in the case's frame.
struct Limits {
  double open_rad = 0.0;      ///< opening angle wanted
  double gap_from_rad = 0.0;  ///< from here on the swing gap is kept
  double swing_gap_mm = 0.0;
  double bench_gap_mm = 0.0;
  double arms_gap_mm = 0.0;
  std::vector<PoseLimit> poses;
  double open_behind_x_mm = 0.0;                     ///< the open lid stays behind this line
  double mouth_free = 0.0;                           ///< and leaves this share of the mouth
  double mouth_back_mm = 0.0, mouth_front_mm = 0.0;  ///< the mouth
};

struct CertifyOptions {
  bool all = true;        ///< judge every requirement; false: stop at the first that is not met
  bool depths = false;    ///< where parts meet, say how deep
  std::size_t since = 0;  ///< only pairs with a part registered at this index or later
  int threads = 1;        ///< verdicts worked on at once; 0: as many as the machine has cores
  std::stop_token stop;
};

/// Does the motion reach the opening angle on the branch of the shut pose? `motion` is nothing for
/// pivots on which no lid can turn.
Verdict OpeningVerdict(const std::optional<LidMotion>& motion, const Limits& limits);

/// Pairs that one rule holds to one limit: one verdict.
struct GapGroup {
  Member member = Member::kNone;
  std::vector<std::array<const Assembly::Registered*, 2>> parts;  ///< point into the assembly
  std::vector<PartPair> pairs;                                    ///< the same, to be walked
};

/// The groups of one rule, in the assembly's order; only pairs with a part registered at `since` or
/// later.
std::vector<GapGroup> GapGroups(const GapRule& rule, const Assembly& assembly,
                                std::size_t since = 0);

/// What a rule asks for [mm].
double LimitOf(const GapRule& rule, const Limits& limits);

/// The part of a swing from shut to open over which a rule holds; nothing if it is empty.
std::optional<Swing> StretchOf(const GapRule& rule, const Swing& whole, const Limits& limits);

/// The gaps of one stage, by the table of gap_rules.h. A row without pairs gives no verdict.
/// `whole` runs from shut to open.
Verdicts CertifyGaps(const Assembly& assembly, const Swing& whole, const Limits& limits,
                     Stage stage, const CertifyOptions& options = {});

/// Are all gaps of a stage kept? The same answer as AllMet(CertifyGaps(…)), sooner; for what is
/// shaped by trial. Requires another stage than the lid's.
bool AllKept(const Assembly& assembly, const Swing& whole, const Limits& limits, Stage stage,
             std::size_t since = 0);

/// The same as far as it is told quickly: undecided means that CertifyGaps has to be asked.
Outcome QuickOutcome(const Assembly& assembly, const Swing& whole, const Limits& limits,
                     Stage stage, std::size_t since = 0);

/// Everything that is asked of the lid alone: first the opening angle (with nothing else if it is
/// not reached), the gaps of its stage, the poses, the open lid's access. Every requirement is
/// judged, whatever the others say, unless options.all is false.
Verdicts CertifyLid(const Assembly& assembly, const std::optional<LidMotion>& motion,
                    const Limits& limits, const CertifyOptions& options = {});

/// Share of the mouth that the open lid leaves free, and the x of its foremost point, with the
/// error of the lid's parts.
struct Access {
  double mouth_free = 0.0;
  double foremost_x_mm = 0.0;
};
Access AccessAt(const Assembly& assembly, const Pose& X_CL, const Limits& limits);

}  // namespace lidwright
