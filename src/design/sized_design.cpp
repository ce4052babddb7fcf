// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/sized_design.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "finish_hinge.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/arms/shop_sheets.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/merit.h"
#include "lidwright/design/stay_choice.h"
#include "lidwright/forces/material_data.h"
#include "lidwright/forces/requirements.h"

namespace lidwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
// [–] What is foretold of a size may be off by this share: paths change with the width.
constexpr double kForetold = 0.85;
// [–] What is chosen for pivots yet to be found shall bear so much more than is wanted.
constexpr double kForOtherPivots = 1.5;
// [–] Sizes tried on one linkage before the search is made anew, and searches made after the first.
constexpr int kTries = 4, kRounds = 2;
// Cut with a fretsaw or a router and stiff enough in the sheets sold. Solid wood is left to those
// who ask for it, as its grain must run along the arm; acrylic cracks at its holes.
const std::array<const char*, 3> kSheetsToTry{"birch plywood", "aluminium", "stainless steel"};
// [mm] A sheet that a job's thickness means.
constexpr double kSameSheet_mm = 0.3;
// [mm] Thicker arms leave no room for two layers and plates in a bay.
constexpr double kThinnest_mm = 1.4, kThickest_mm = 6.5;
// [mm] Of material round a bushing, both sides together: as the job's default.
constexpr double kEyeWalls_mm = 4.0;
// [mm] Of a metal plate round a pin, beyond its diameter to the pin's middle.
constexpr double kRoundPin_mm = 1.0;
// [–] An arm's thickness is in the way of plates and screws, so much more than its width.
constexpr double kThicknessInTheWay = 2.0;
// [mm] A hole as measured is for the tube that is so much wider or narrower: press fits and glue.
constexpr double kSameHole_mm = 0.15;

const std::vector<double>& WidthsOf(bool inch) {
  static const std::vector<double> kMetric{8, 10, 12, 14, 16, 20, 25, 30};
  static const std::vector<double> kInch{
      kMmPerInch * 5 / 16, kMmPerInch * 3 / 8, kMmPerInch * 1 / 2, kMmPerInch * 5 / 8,
      kMmPerInch * 3 / 4,  kMmPerInch * 1,     kMmPerInch * 5 / 4};
  return inch ? kInch : kMetric;
}
const std::vector<double>& BushingsOf(bool inch) {
  // Those in which rods run that are sold: of 3, 4, 5 and 6 mm, of 1/8, 5/32, 3/16 and 1/4 in.
  static const std::vector<double> kMetric{3.5, 4.5, 6, 7};
  static const std::vector<double> kInch{kMmPerInch * 5 / 32, kMmPerInch * 3 / 16,
                                         kMmPerInch * 7 / 32, kMmPerInch * 9 / 32};
  return inch ? kInch : kMetric;
}
const std::vector<double>& PlatesOf(bool inch) {
  static const std::vector<double> kMetric{2, 3, 4, 5};
  static const std::vector<double> kInch{kMmPerInch * 3 / 32, kMmPerInch * 1 / 8,
                                         kMmPerInch * 3 / 16};
  return inch ? kInch : kMetric;
}

bool IsMeant(const StockSheet& sheet, double thickness_mm) {
  return std::abs(sheet.nominal_mm - thickness_mm) < kSameSheet_mm;
}
bool SoldAs(const std::string& material, double thickness_mm, bool inch) {
  return std::any_of(StockSheets().begin(), StockSheets().end(), [&](const StockSheet& sheet) {
    return sheet.material == material && sheet.inch == inch && IsMeant(sheet, thickness_mm);
  });
}

// Pivots stand as far from the wood as the plate needs round a pin, where that is left open.
void KeepRoomAtEdges(Job& job) {
  if (!job.arms.open.bay_edge) return;
  job.bay.edge_mm = std::max(job.bay.edge_mm, PinDiameter_mm(job) + kRoundPin_mm);
}

// What a search begins with where the job leaves it open: straps that bear most lids and whoever
// leans on them, as light as plywood ones, and plates that take the heads of screws that do.
Job StartingSizes(const Job& wanted) {
  Job job = wanted;
  const OpenSizes& open = wanted.arms.open;
  const auto size = [&](double mm, double in) { return wanted.inches ? kMmPerInch * in : mm; };
  if (open.material && (open.thickness || SoldAs("aluminium", job.arms.thickness_mm, job.inches))) {
    job.arms.material = "aluminium";
    if (open.thickness) job.arms.thickness_mm = size(2.0, 1.0 / 16);
  }
  if (open.width) job.arms.width_mm = size(10.0, 3.0 / 8);
  if (open.bushing) job.arms.bushing_mm = size(6.0, 7.0 / 32);
  if (open.eye) {
    job.arms.eye_mm = std::max(job.arms.width_mm, job.arms.bushing_mm + kEyeWalls_mm);
  }
  KeepRoomAtEdges(job);
  if (open.bushing) {
    // In thin walls the screws of thick plates have too little thread.
    for (const double plate : {size(3.0, 1.0 / 8), size(2.0, 3.0 / 32)}) {
      if (std::isnan(wanted.plates.case_mm)) job.plates.case_mm = plate;
      if (std::isnan(wanted.plates.lid_mm)) job.plates.lid_mm = plate;
      if (ScrewsHeldByWalls(job)) break;
    }
  }
  return job;
}

struct Sizes {
  StockSheet sheet;
  double width_mm, bushing_mm, plate_mm;
  double weight_kg_m;     // of an arm along its length
  double in_use, leaned;  // foretold: strength over load over what is wanted
};

// [mm] How much of the room in the bay an arm takes.
double BulkOf_mm(const Sizes& sizes) {
  return sizes.width_mm + kThicknessInTheWay * sizes.sheet.thickness_mm;
}

// [–] Least strength over load over what is wanted, of all that hangs on one size.
double Borne(const HingeForces& forces, bool leaning, HangsOn size) {
  double least = kInfinite;
  for (const Strength& s : forces.strengths) {
    if (s.leaning == leaning && s.hangs_on == size) least = std::min(least, s.Factor() / s.wanted);
  }
  return least;
}

// What a strap bears over what is wanted of its material, up to a factor that all straps share:
// bent in its plane, and buckling out of it.
struct StrapBears {
  double bent, buckling;
};
StrapBears BearsAs(const std::string& material, double thickness_mm, double width_mm,
                   Situation situation) {
  const MaterialData* data = FindMaterial(material);
  const Stressed stressed = data->brittle ? Stressed::kPlywood : Stressed::kMetal;
  const double wanted = WantedFor(situation, stressed).factor;
  return {data->tension_mpa * thickness_mm * width_mm * width_mm / wanted,
          data->modulus_mpa * std::pow(thickness_mm, 3.0) * width_mm / wanted};
}

// The smallest of `sold` that bears `wanted` if the one at hand bears `borne`, strength going with
// that power of the size; else the largest.
double Enough(const std::vector<double>& sold, double at_hand, double borne, double power) {
  for (const double size : sold) {
    if (borne * std::pow(size / at_hand, power) >= 1.0) return size;
  }
  return sold.back();
}

// [1] Strength goes with these powers of a pin's diameter and of a plate's thickness.
constexpr double kPinPower = 3.0, kSeatPower = 2.0, kScrewPower = 1.5;

double PinIn_mm(Job job, double bushing_mm) {
  job.arms.bushing_mm = bushing_mm;
  return PinDiameter_mm(job);
}

class Ladder {
 public:
  // `leaning`: pins and plates for somebody who leans on the lid as well, else for use alone.
  Ladder(const Job& job, const PlateWish& wanted, const HingeForces& forces, bool leaning)
      : job_(job), wanted_(wanted) {
    const auto borne = [&](HangsOn size) {
      const double in_use = Borne(forces, false, size);
      return leaning ? std::min(in_use, Borne(forces, true, size)) : in_use;
    };
    const double pins = borne(HangsOn::kPin), seats = borne(HangsOn::kSeat);
    const double screws = borne(HangsOn::kScrew);
    const OpenSizes& open = job.arms.open;
    double bushing = job.arms.bushing_mm;
    const double pin_at_hand = PinIn_mm(job, bushing);
    const auto pins_with = [&](double bushing_mm) {
      return pins * std::pow(PinIn_mm(job, bushing_mm) / pin_at_hand, kPinPower);
    };
    if (open.bushing) {
      const std::vector<double>& sold = BushingsOf(job.inches);
      const auto enough = std::find_if(sold.begin(), sold.end(),
                                       [&](double size) { return pins_with(size) >= 1.0; });
      bushing = enough != sold.end() ? *enough : sold.back();
    }
    const double at_hand =
        std::isnan(job.plates.case_mm) ? PlatesOf(job.inches)[0] : job.plates.case_mm;
    // The heads of larger screws sink in thicker plates.
    const double plate = std::max(Enough(PlatesOf(job.inches), at_hand, seats, kSeatPower),
                                  Enough(PlatesOf(job.inches), at_hand, screws, kScrewPower));
    bears_ = std::min(pins_with(bushing), seats * std::pow(plate / at_hand, kSeatPower));
    for (const StockSheet& sheet : StockSheets()) {
      if (sheet.inch != job.inches || !Wanted(sheet)) continue;
      for (const double width : WidthsOf(job.inches)) {
        if (!open.width && width != WidthsOf(job.inches)[0]) break;
        Sizes sizes{sheet, open.width ? width : job.arms.width_mm, bushing, plate, 0.0, 0.0, 0.0};
        const auto foretold = [&](Situation situation) {
          const bool leant = situation == Situation::kLeaning;
          const StrapBears there =
              BearsAs(sheet.material, Thickness(sheet), sizes.width_mm, situation);
          const StrapBears here =
              BearsAs(job.arms.material, job.arms.thickness_mm, job.arms.width_mm, situation);
          return std::min(
              Borne(forces, leant, HangsOn::kStrap) * there.bent / here.bent,
              Borne(forces, leant, HangsOn::kStiffness) * there.buckling / here.buckling);
        };
        sizes.in_use = foretold(Situation::kInUse);
        sizes.leaned = foretold(Situation::kLeaning);
        sizes.weight_kg_m = WeightOf_kg_m2(sheet) * sizes.width_mm / 1000.0;
        steps_.push_back(sizes);
      }
    }
    std::stable_sort(steps_.begin(), steps_.end(), [](const Sizes& a, const Sizes& b) {
      return a.weight_kg_m != b.weight_kg_m ? a.weight_kg_m < b.weight_kg_m
                                            : WorkOf(a.sheet.material) < WorkOf(b.sheet.material);
    });
  }

  const std::vector<Sizes>& steps() const { return steps_; }
  /// [–] What pins and plates are foretold to bear over what is wanted. Screws are left out: their
  /// row can be made longer.
  double bears() const { return bears_; }

  Job With(const Sizes& sizes) const {
    Job job = job_;
    ArmWish& arms = job.arms;
    arms.material = sizes.sheet.material;
    arms.thickness_mm = Thickness(sizes.sheet);
    arms.width_mm = sizes.width_mm;
    arms.bushing_mm = sizes.bushing_mm;
    if (arms.open.eye) arms.eye_mm = std::max(arms.width_mm, arms.bushing_mm + kEyeWalls_mm);
    if (std::isnan(wanted_.case_mm)) job.plates.case_mm = sizes.plate_mm;
    if (std::isnan(wanted_.lid_mm)) job.plates.lid_mm = sizes.plate_mm;
    KeepRoomAtEdges(job);
    return job;
  }

 private:
  double Thickness(const StockSheet& sheet) const {
    return job_.arms.open.thickness ? sheet.thickness_mm : job_.arms.thickness_mm;
  }
  bool Wanted(const StockSheet& sheet) const {
    const OpenSizes& open = job_.arms.open;
    if (open.material) {
      if (std::none_of(kSheetsToTry.begin(), kSheetsToTry.end(),
                       [&](const char* name) { return sheet.material == name; })) {
        return false;
      }
    } else if (sheet.material != job_.arms.material) {
      return false;
    }
    if (!open.thickness) return IsMeant(sheet, job_.arms.thickness_mm);
    return sheet.thickness_mm >= kThinnest_mm && sheet.thickness_mm <= kThickest_mm;
  }

  const Job& job_;
  const PlateWish& wanted_;
  std::vector<Sizes> steps_;
  double bears_ = 0.0;
};

std::string NameOf(const Job& job) {
  return BenchText(job.arms.thickness_mm, Bench::kHole, job.inches) + " " + job.arms.material +
         ", " + BenchText(job.arms.width_mm, Bench::kSize, job.inches) + " wide";
}

// [–] Holding in use before all, then when leaned on; more than enough is no more worth.
double WorthOfHolding(double in_use, double leaned) {
  return std::min(1.0, in_use) + 0.5 * std::min(1.0, leaned);
}

struct Tried {
  Job job;
  double in_use = 0.0, leaned = 0.0;
  bool Holds(bool leaning) const { return in_use >= 1.0 && (!leaning || leaned >= 1.0); }
};

// The lightest sizes that do on these pivots, or better than what is there; where none tried can
// be built there, the slightest that is foretold to hold or else the strongest, for pivots yet to
// be found, with that reserve. Nothing if there is no other.
std::optional<Tried> Choose(const Job& job, const PlateWish& wanted, const HingeForces& forces,
                            const GivenHinge& given, double reserve = 1.0) {
  const Tried here{job, HoldsTimes(forces, false), HoldsTimes(forces, true)};
  const auto worth = [](const Tried& t) { return WorthOfHolding(t.in_use, t.leaned); };
  std::optional<Tried> best;
  for (const bool leaning : {true, false}) {
    if (!leaning && here.Holds(false)) break;
    const Ladder ladder(job, wanted, forces, leaning);
    int tries = 0;
    for (const Sizes& sizes : ladder.steps()) {
      if (sizes.in_use < kForetold || (leaning && sizes.leaned < kForetold)) continue;
      if (++tries > kTries) break;
      Tried tried{ladder.With(sizes)};
      const Hinge hinge = JudgeAsGiven(BoxModel(tried.job), given);
      if (!hinge.forces || !ClearsWithAllParts(hinge)) continue;
      tried.in_use = HoldsTimes(*hinge.forces, false);
      tried.leaned = HoldsTimes(*hinge.forces, true);
      if (tried.Holds(leaning)) return tried;
      if (worth(tried) > worth(best ? *best : here)) best = tried;
    }
    if (best && best->Holds(false)) return best;
  }
  if (best) return best;
  const bool leaning = here.Holds(false);
  const Ladder ladder(job, wanted, forces, leaning);
  // Arms need not bear what pins and plates do not; where none is foretold to, the strongest may on
  // other pivots.
  const double enough = std::min(reserve, ladder.bears());
  const Sizes *slightest = nullptr, *strongest = nullptr;
  const auto borne = [&](const Sizes& sizes) {
    return leaning ? std::min(sizes.in_use, sizes.leaned) : sizes.in_use;
  };
  for (const Sizes& sizes : ladder.steps()) {
    // How plywood bears at an eye is not foretold from a metal strap's.
    if (job.arms.open.material && FindMaterial(sizes.sheet.material)->brittle) continue;
    if (!strongest || borne(sizes) > borne(*strongest)) strongest = &sizes;
    if (sizes.in_use < 1.0 || borne(sizes) < enough) continue;
    if (!slightest || BulkOf_mm(sizes) < BulkOf_mm(*slightest)) slightest = &sizes;
  }
  const Sizes* sizes = slightest ? slightest : strongest;
  if (sizes) {
    best = Tried{ladder.With(*sizes), sizes->in_use, std::min(sizes->leaned, ladder.bears())};
  }
  return best;
}

// [–] What a hinge is taken for: all parts made before all, then holding in use, then leaned on.
double Worth(const Hinge& hinge) {
  if (!hinge.forces) return 0.0;
  return (ClearsWithAllParts(hinge) ? 2.0 : 0.0) +
         WorthOfHolding(HoldsTimes(*hinge.forces, false), HoldsTimes(*hinge.forces, true));
}
double Worth(const Design& design) {
  return design.hinges.empty() ? -1.0 : Worth(design.hinges[0]);
}

// [N] The load on a pin that the sizes chosen bear when leaned on, as foretold on these pivots.
double BearsWith_n(const BoxModel& box, const Pivots& pivots, const Tried& chosen) {
  return LeantPin(box.task, pivots) * UseOf(box).lean_n * chosen.leaned;
}

bool SameSizes(const Job& a, const Job& b) {
  return a.arms.material == b.arms.material && a.arms.thickness_mm == b.arms.thickness_mm &&
         a.arms.width_mm == b.arms.width_mm && a.arms.bushing_mm == b.arms.bushing_mm &&
         a.plates.case_mm == b.plates.case_mm && a.plates.lid_mm == b.plates.lid_mm;
}

// What shape and holes of arms that somebody has leave open of the job.
Job OpenBesides(const Job& job, const GivenHinge& given) {
  Job left = job;
  OpenSizes& open = left.arms.open;
  if (!given.arm_a && !given.arm_b) return left;
  open.width = open.eye = false;
  const double hole_mm = given.arm_a ? given.arm_a->hole_mm : given.arm_b->hole_mm;
  for (const Tube& tube : Tubes()) {
    if (!open.bushing || tube.inch != job.inches) continue;
    if (!(std::abs(tube.outside_mm - hole_mm) < kSameHole_mm)) continue;
    left.arms.bushing_mm = tube.outside_mm;
    open.bushing = false;
  }
  return left;
}

// What no choice of sizes mends.
void AddStays(const DesignOptions& options, Design& design) {
  std::vector<Hinge>& hinges = design.hinges;
  if (std::all_of(hinges.begin(), hinges.end(), [](const Hinge& h) { return Does(h); })) return;
  const BoxModel box(design.job);
  for (Hinge& hinge : hinges) AddStayWhereNeeded(box, hinge);
  KeepChoices(hinges);
  Hinge& first = hinges.front();
  if (!first.accuracy && AllMet(first.verdicts)) AddAccuracy(box, options.threads, first);
}

void TellSizes(Design& design) {
  const Job& job = design.job;
  if (design.hinges.empty() || !design.hinges[0].forces) return;
  const HingeForces& forces = *design.hinges[0].forces;
  const double in_use = HoldsTimes(forces, false), leaned = HoldsTimes(forces, true);
  design.sizes = "arms of " + NameOf(job);
  std::string& text = design.sizes_why;
  if (in_use < 1.0) {
    text = "the strongest tried, and still too weak in use: a wider bay lets stronger ones in";
  } else if (leaned >= 1.0 && design.hinges[0].parts && design.hinges[0].parts->stay) {
    text = "which hold in use; a stay at each end takes what leans on the open lid";
  } else if (leaned >= 1.0) {
    text = "which hold in use and when somebody leans on the open lid";
  } else {
    text =
        "which hold in use; somebody who leans on the open lid is too much for them: a stay from "
        "case to lid takes that load";
  }
}

}  // namespace

double HoldsTimes(const HingeForces& forces, bool leaning) {
  const Strength* weakest = WeakestAsked(forces, leaning);
  return weakest ? weakest->Factor() / weakest->wanted : kInfinite;
}

Design MakeSizedDesign(const Job& job, const DesignOptions& options) {
  if (!job.arms.open.Any()) {
    Design given = MakeDesign(BoxModel(job), options);
    AddStays(options, given);
    return given;
  }
  Design best = MakeDesign(BoxModel(StartingSizes(job)), options);
  if (best.hinges.empty()) best.job = job;  // no sizes were chosen
  DesignOptions full = options;
  full.explain = false;  // a size for which there is no hinge is passed over
  std::vector<Job> searched{best.job};
  double reserve = kForOtherPivots;
  for (int round = 0; round < kRounds && !best.hinges.empty() && !Does(best.hinges[0]); ++round) {
    const Hinge& hinge = best.hinges[0];
    if (!hinge.forces) break;
    const Pivots& p = hinge.pivots;
    const GivenHinge found{p.case_a, p.case_b, p.lid_a, p.lid_b, {}, {}};
    const std::optional<Tried> chosen = Choose(best.job, job.plates, *hinge.forces, found, reserve);
    if (!chosen || std::any_of(searched.begin(), searched.end(),
                               [&](const Job& other) { return SameSizes(other, chosen->job); })) {
      break;
    }
    searched.push_back(chosen->job);
    const BoxModel box(chosen->job);
    full.pin_bears_n = BearsWith_n(box, p, *chosen);
    Design next = MakeDesign(box, full);
    // Other pivots may ask for more than these sizes were foretold to bear.
    if (Worth(next) <= Worth(best)) {
      reserve *= kForOtherPivots;
      continue;
    }
    best = std::move(next);
  }
  AddStays(options, best);
  TellSizes(best);
  return best;
}

Job SizedFor(const Job& job, const GivenHinge& given, const std::optional<MadeSizes>& made) {
  const OpenSizes& open = job.arms.open;
  if (!open.Any()) return job;
  Job sized = job;
  if (made) {
    if (open.material) sized.arms.material = made->arms.material;
    if (open.thickness) sized.arms.thickness_mm = made->arms.thickness_mm;
    if (open.width) sized.arms.width_mm = made->arms.width_mm;
    if (open.bushing) sized.arms.bushing_mm = made->arms.bushing_mm;
    if (open.eye) sized.arms.eye_mm = made->arms.eye_mm;
    if (std::isnan(sized.plates.case_mm)) sized.plates.case_mm = made->plates.case_mm;
    if (std::isnan(sized.plates.lid_mm)) sized.plates.lid_mm = made->plates.lid_mm;
    KeepRoomAtEdges(sized);
    return sized;
  }
  const Job left = OpenBesides(job, given);
  if (!left.arms.open.Any()) return left;
  const Job start = StartingSizes(left);
  const BoxModel box(start);
  const Hinge hinge = JudgeAsGiven(box, given);
  if (!hinge.forces) return start;
  Hinge held = hinge;  // with a longer row of screws, or a stay
  AddStayWhereNeeded(box, held);
  if (Does(held)) return start;
  const std::optional<Tried> chosen = Choose(start, job.plates, *hinge.forces, given);
  if (!chosen) return start;
  // What is only foretold to hold may not go on these pivots.
  return Worth(JudgeAsGiven(BoxModel(chosen->job), given)) > Worth(hinge) ? chosen->job : start;
}

std::string SizesTaken(const Job& job, const Job& taken) {
  const OpenSizes& open = job.arms.open;
  std::string text;
  const auto add = [&](bool left_open, const std::string& what) {
    if (left_open) text += (text.empty() ? "" : ", ") + what;
  };
  const auto say = [&](double mm) { return BenchText(mm, Bench::kHole, job.inches); };
  add(open.material || open.thickness,
      "arms of " + say(taken.arms.thickness_mm) + " " + taken.arms.material);
  add(open.width && taken.arms.open.width, "arms " + say(taken.arms.width_mm) + " wide");
  add(open.bushing, "bushings of " + say(taken.arms.bushing_mm));
  const auto plate = [&](double wanted_mm, double taken_mm, bool there, const char* what) {
    add(there && std::isnan(wanted_mm) && !std::isnan(taken_mm), what + say(taken_mm));
  };
  plate(job.plates.case_mm, taken.plates.case_mm, job.plates.on_case, "case plates of ");
  plate(job.plates.lid_mm, taken.plates.lid_mm, job.plates.on_lid, "lid plates of ");
  return text;
}

}  // namespace lidwright
