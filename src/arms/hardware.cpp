// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/hardware.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/arms/shop_fasteners.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [mm] A tube this near to the diameter asked for is that tube: the tolerance of drawn tube.
constexpr double kSameTube_mm = 0.05;
// [mm] Spacers are wider than the bushing by this at least.
double SpacerOver_mm(bool inch) {
  return inch ? kMmPerInch / 16.0 : 1.5;
}
// [mm] Bores of spacers and washers over their pin.
constexpr double kSpacerBore_mm = 0.1;
// [1] An eye is wrapped round its hole and loaded along the arm: it takes this share of the web
// that a hole near a plate's edge needs (common practice; forces judges the strength).
constexpr double kEyeShare = 1.0 / 3.0;
// [mm] Left under a sunk head.
constexpr double kUnderHead_mm = 0.4;
// [mm] Thickness of the shim fixed on a pin's inner end: thin, as the other arm passes over it.
constexpr double kWasher_mm = 0.5;
// [mm] A rod runs in a tube with this to spare, on the diameter: less binds, more rattles.
constexpr double kTightest_mm = 0.01;
constexpr double kLoosest_mm = 0.2;
// [mm] What a rod picked for a given tube has to spare at least.
constexpr double kEasy_mm = 0.03;
// [mm] Thinner tube is crushed when pressed in.
constexpr double kLeastTubeWall_mm = 0.15;
// [mm] Least wall of a spacer; a washer stands out beyond the bushing all round by this.
constexpr double kSpacerWall_mm = 0.4;
constexpr double kWasherRim_mm = 0.5;
const std::string kWood = "hardwood";  // whose press fit holds for pins straight in wood

std::string Near(double wanted, bool inch) {
  const Tube *under = nullptr, *over = nullptr;
  for (const Tube& tube : Tubes()) {
    if (tube.outside_mm < wanted && (!under || tube.outside_mm > under->outside_mm)) under = &tube;
    if (tube.outside_mm > wanted && (!over || tube.outside_mm < over->outside_mm)) over = &tube;
  }
  std::string text;
  for (const Tube* tube : {under, over}) {
    if (tube) text += (text.empty() ? "" : " or ") + BenchLength(tube->outside_mm, inch);
  }
  return text;
}

const Tube* FindTube(double outside_mm, bool inch) {
  const Tube* best = nullptr;
  const auto cost = [&](const Tube& tube) {
    return std::abs(tube.outside_mm - outside_mm) + (tube.reamed ? 0.2 : 0.0) +
           (tube.inch != inch ? 0.02 : 0.0);
  };
  for (const Tube& tube : Tubes()) {
    if (std::abs(tube.outside_mm - outside_mm) > kSameTube_mm) continue;
    if (!best || cost(tube) < cost(*best)) best = &tube;
  }
  return best;
}

// The rod picked for a tube of the maker's.
double RodFor(double bore_mm, bool inch) {
  double sold = 0.0;  // the thickest that runs without rattling
  for (const StockRod& rod : StockRods()) {
    const double spare = bore_mm - rod.diameter_mm;
    if (rod.inch == inch && spare >= kEasy_mm && spare <= kLoosest_mm) {
      sold = std::max(sold, rod.diameter_mm);
    }
  }
  if (sold > 0.0) return sold;
  const double step = inch ? kMmPerInch / 64.0 : 0.5;
  return step * std::floor((bore_mm - kEasy_mm) / step + 1e-9);
}

bool IsMetal(const std::string& material) {
  return material == "brass" || material == "aluminium" || material == "stainless steel";
}

// One choice after another, each with its fault or its reason.
class Chooser {
 public:
  Chooser(const Job& job, std::vector<std::string>* faults)
      : job_(job), wish_(job.hardware), plates_(PlatesOf(job)), faults_(*faults) {
    if (plates_.on_case) thinnest_ = plates_.case_mm;
    if (plates_.on_lid) thinnest_ = std::min(thinnest_, plates_.lid_mm);
  }

  std::optional<Hardware> Choose() {
    const std::size_t before = faults_.size();
    const PressFit* arm_fit = Fit("arms", job_.arms.material);
    const PressFit* plate_fit = Fit("plates", plates_.material);
    const std::optional<Tube> tube = std::isnan(wish_.bore_mm) ? SoldTube() : OwnTube();
    if (tube) Running(*tube);
    if (arm_fit) Eye(*arm_fit);
    const std::optional<WoodScrew> screw = Screw();
    if (faults_.size() > before) return std::nullopt;

    Hardware h{*tube, *arm_fit, *plate_fit, *screw};
    h.bolts = IsBolt(screw->name);
    h.screw_length_mm = wish_.screw_length_mm;
    const auto over = [](double given, double usual) { return std::isnan(given) ? usual : given; };
    const double pin_press = over(wish_.pin_press_mm, plate_fit->interference_mm);
    h.arm_hole_mm = tube->outside_mm - over(wish_.arm_press_mm, arm_fit->interference_mm);
    h.plate_hole_mm = tube->pin_mm - pin_press;
    h.wood_hole_mm = tube->pin_mm - over(wish_.pin_press_mm, FindPressFit(kWood)->interference_mm);
    h.running_mm = tube->inside_mm - tube->pin_mm;
    h.spacer_out_mm = SpacerOutside_mm(job_);
    h.spacer_bore_mm = tube->pin_mm + kSpacerBore_mm;
    h.washer_out_mm = over(wish_.washer_mm, std::max(h.spacer_out_mm, LeastWasher()));
    h.washer_mm = over(wish_.washer_thickness_mm, kWasher_mm);
    Collars(h);
    if (faults_.size() > before) return std::nullopt;
    Explain(h);
    return h;
  }

  bool ScrewsHeld() {
    const std::optional<WoodScrew> screw = Screw();
    if (!screw) return false;
    if (IsBolt(screw->name)) return !wish_.screw.empty();  // what is left where no screw holds
    return !HasPlates() || HeldByWalls(*screw);
  }

 private:
  std::string Say(double mm) const { return BenchLength(mm, job_.inches); }
  void Fault(const std::string& sentence) { faults_.push_back(sentence); }

  const PressFit* Fit(const std::string& part, const std::string& name) {
    const PressFit* fit = FindPressFit(name);
    if (!fit) {
      Fault(part + ": no press fit is known for \"" + name +
            "\"; brass, aluminium, stainless steel, acrylic, hardwood and birch plywood would do");
    }
    return fit;
  }

  std::optional<Tube> SoldTube() {
    const double outside = job_.arms.bushing_mm;
    const Tube* sold = FindTube(outside, job_.inches);
    if (!sold) {
      Fault("bushing: no tube of " + Say(outside) + " outside is sold; " +
            Near(outside, job_.inches) + " would fit");
      return std::nullopt;
    }
    Tube tube = *sold;
    if (!std::isnan(wish_.pin_mm)) {
      // The rod itself as it is named, or another one in the same tube, which then is not H7/f7.
      tube.reamed = tube.reamed && std::abs(wish_.pin_mm - tube.pin_mm) < kSamePoint_mm;
      tube.pin_mm = wish_.pin_mm;
    }
    return tube;
  }

  std::optional<Tube> OwnTube() {
    Tube tube;
    tube.outside_mm = job_.arms.bushing_mm;
    tube.inside_mm = wish_.bore_mm;
    tube.name = "tube of yours, " + Say(tube.outside_mm) + " outside and " + Say(tube.inside_mm) +
                " inside";
    tube.inch = job_.inches;
    tube.reamed = false;
    tube.source = {Standing::kGiven, "measure it and try the rod in it"};
    tube.pin_mm = PinDiameter_mm(job_);
    const double wall = (tube.outside_mm - tube.inside_mm) / 2.0;
    if (wall < kLeastTubeWall_mm - kSamePoint_mm) {
      Fault("bushing: a tube of " + Say(tube.outside_mm) + " bored " + Say(tube.inside_mm) +
            " has a wall of " + Say(wall) + " and is crushed when pressed in; a bore of " +
            Say(tube.outside_mm - 2.0 * kLeastTubeWall_mm) + " would fit");
    }
    return tube;
  }

  void Running(const Tube& tube) {
    if (tube.reamed) return;
    const double spare = tube.inside_mm - tube.pin_mm;
    if (spare >= kTightest_mm - kSamePoint_mm && spare <= kLoosest_mm + kSamePoint_mm) return;
    Fault("pins: a rod of " + Say(tube.pin_mm) + " in a bushing bored " + Say(tube.inside_mm) +
          (spare < kTightest_mm ? " does not turn" : " rattles") + "; one of " +
          Say(tube.inside_mm - kLoosest_mm) + " to " + Say(tube.inside_mm - kTightest_mm) +
          " would fit, or say hardware.bushing_bore if your tube is another");
  }

  void Eye(const PressFit& fit) {
    const double bushing = job_.arms.bushing_mm, eye = job_.arms.eye_mm;
    const double web = (eye - bushing) / 2.0;
    const double needed = kEyeShare * fit.web_per_diameter * bushing;
    if (web >= needed - kSamePoint_mm) return;
    Fault("eye of the arms: a bushing of " + Say(bushing) + " in an eye of " + Say(eye) +
          " leaves a web of " + Say(web) + "; " + fit.material + " needs " + Say(needed) +
          ", so an eye of " + Say(bushing + 2.0 * needed) + " would fit");
  }

  std::optional<WoodScrew> Screw() {
    const auto& all = WoodScrews();
    if (!wish_.screw.empty()) return GivenScrew();
    const double largest_head = job_.arms.eye_mm - kBesideHead_mm;
    const WoodScrew *screw = nullptr, *held = nullptr, *least = nullptr;
    for (const WoodScrew& s : all) {
      if (s.inch != job_.inches) continue;
      if (!least) least = &s;
      if (!Sinks(s) || s.head_mm > largest_head) continue;
      screw = &s;
      if (HeldByWalls(s)) held = &s;
    }
    if (!HasPlates()) return *least;
    if (held) {
      screw = held;
    } else {
      // A wall too thin for any screw takes a bolt right through.
      for (const MachineScrew& m : MachineScrews()) {
        const WoodScrew bolt = AsBolt(m);
        if (m.inch == job_.inches && Sinks(bolt) && bolt.head_mm <= largest_head) return bolt;
      }
    }
    if (!screw) {
      Fault("fixing screws: the smallest head is " + Say(least->head_mm) + " wide and sinks " +
            Say(least->head_height_mm) + "; a plate of " + Say(thinnest_) +
            " with room for heads of " + Say(largest_head) + " takes none; a plate of " +
            Say(least->head_height_mm + kUnderHead_mm) + " with heads of " + Say(least->head_mm) +
            " would fit");
      return std::nullopt;
    }
    return *screw;
  }

  std::optional<WoodScrew> GivenScrew() {
    std::optional<WoodScrew> given;
    std::string names;
    for (const WoodScrew& s : WoodScrews()) {
      if (s.name == wish_.screw) given = s;
      names += (names.empty() ? "" : ", ") + s.name;
    }
    names += "; bolted right through ";
    for (const MachineScrew& m : MachineScrews()) {
      if (m.name == wish_.screw) given = AsBolt(m);
      names += (&m == &MachineScrews().front() ? "" : ", ") + m.name;
    }
    if (!given) {
      Fault("fixing screws: \"" + wish_.screw + "\" is no size of screw; in the wood " + names +
            " would do");
    } else if (!Sinks(*given)) {
      Fault("fixing screws: the head of " + given->name + " screws sinks " +
            Say(given->head_height_mm) + " into a plate of " + Say(thinnest_) + "; a plate of " +
            Say(given->head_height_mm + kUnderHead_mm) + " would fit");
    }
    return given;
  }

  // A countersunk machine screw: its head's cone is of 90°, its hole in the wood is clear.
  static WoodScrew AsBolt(const MachineScrew& m) {
    return {m.name,         m.diameter_mm,  m.head_mm,      (m.head_mm - m.diameter_mm) / 2.0,
            m.clearance_mm, m.clearance_mm, m.clearance_mm, m.inch,
            m.source};
  }

  double LeastWasher() const { return job_.arms.bushing_mm + 2.0 * kWasherRim_mm; }
  static bool IsBolt(const std::string& name) {
    const auto& all = MachineScrews();
    return std::any_of(all.begin(), all.end(),
                       [&](const MachineScrew& m) { return m.name == name; });
  }
  bool HasPlates() const { return plates_.on_case || plates_.on_lid; }
  bool Sinks(const WoodScrew& screw) const {
    return screw.head_height_mm <= thinnest_ - kUnderHead_mm + kSamePoint_mm;
  }

  // The longest screw sold that stays in each wall has thread enough there.
  bool HeldByWalls(const WoodScrew& screw) const {
    const auto holds = [&](double over_mm, double wall_mm) {
      double length = 0.0;
      for (const double sold : WoodScrewLengths_mm(job_.inches)) {
        if (sold <= over_mm + wall_mm - kBehindScrew_mm + kSamePoint_mm) length = sold;
      }
      return length - over_mm >= kThreadDepth * screw.diameter_mm - kSamePoint_mm;
    };
    return (!plates_.on_case || holds(plates_.case_mm, job_.case_form.end_wall_mm)) &&
           (!plates_.on_lid || holds(plates_.lid_mm + plates_.packing_mm, job_.lid.wall_mm));
  }

  // Spacers and washers that go over their pin and hold the arm.
  void Collars(const Hardware& h) {
    const double least = h.spacer_bore_mm + 2.0 * kSpacerWall_mm;
    if (h.spacer_out_mm < least - kSamePoint_mm) {
      Fault("spacers: one of " + Say(h.spacer_out_mm) + " outside has no wall round a pin of " +
            Say(h.bushing.pin_mm) + "; " + Say(least) + " would fit");
    }
    const double covers = LeastWasher();
    const double eye = job_.arms.eye_mm, most = eye + job_.arms.gap_mm;
    if (h.spacer_out_mm > eye + kSamePoint_mm) {
      Fault("spacers: one of " + Say(h.spacer_out_mm) + " stands out over an eye of " + Say(eye) +
            "; " + Say(eye) + " would fit");
    }
    if (h.washer_out_mm > most + kSamePoint_mm) {
      Fault("washers: two of " + Say(h.washer_out_mm) + " on neighbouring pins would meet; " +
            Say(most) + ", the eye and arms.gap, would fit");
    }
    if (h.washer_out_mm < covers - kSamePoint_mm) {
      Fault("washers: one of " + Say(h.washer_out_mm) + " does not hold an arm whose bushing is " +
            Say(h.bushing.outside_mm) + "; " + Say(covers) + " would fit");
    }
  }

  void Explain(Hardware& h) const {
    const Tube& tube = h.bushing;
    std::string runs = "with " + Spare(h.running_mm) + " to spare";
    if (tube.reamed) {
      const lidwright::Fit fit = *IsoFit(tube.pin_mm, "H7", "f7");
      h.running_mm = (fit.least_um + fit.greatest_um) / 2000.0;
      runs = "H7/f7, with " + Spare(fit.least_um / 1000.0) + " to " +
             Spare(fit.greatest_um / 1000.0) + " to spare";
    }
    h.why.push_back("Bushings: " + tube.name +
                    (std::isnan(wish_.bore_mm) ? ", because its outside is the " +
                                                     Say(job_.arms.bushing_mm) + " asked for"
                                               : std::string()) +
                    "; a pin of " + Say(tube.pin_mm) + " runs in it " + runs + " (" +
                    Describe(tube.source) + ").");
    h.why.push_back("Holes for bushings in the arms: " + Say(h.arm_hole_mm) + " in " +
                    job_.arms.material + "; " + How(h.arm_fit, wish_.arm_press_mm));
    const bool bare = !plates_.on_case || !plates_.on_lid;
    if (HasPlates()) {
      h.why.push_back("Holes for pins in the plates: " + Say(h.plate_hole_mm) + " in " +
                      plates_.material + "; " + How(h.plate_fit, wish_.pin_press_mm));
    }
    if (bare) {
      h.why.push_back("Holes for pins straight in the wood: " + Say(h.wood_hole_mm) + "; " +
                      How(*FindPressFit(kWood), wish_.pin_press_mm));
    }
    if (!HasPlates()) return;
    if (h.bolts) {
      h.why.push_back(
          "Fixing screws: " + h.screw.name + " countersunk machine screws right through the walls" +
          (wish_.screw.empty() ? ", too thin to hold a wood screw" : "") + ", their head of " +
          Say(h.screw.head_mm) + " sunk in a plate of " + Say(thinnest_) +
          ", with washer and nut outside; holes of " + Say(h.screw.clearance_mm) +
          " in the wood (" + Describe(h.screw.source) + ").");
      return;
    }
    h.why.push_back("Fixing screws: " + h.screw.name + " countersunk wood screws, " +
                    (wish_.screw.empty() ? "the largest whose" : "whose") + " head of " +
                    Say(h.screw.head_mm) + " sinks in a plate of " + Say(thinnest_) + "; pilot " +
                    Say(h.screw.pilot_soft_mm) + " in soft and " + Say(h.screw.pilot_hard_mm) +
                    " in hard wood (" + Describe(h.screw.source) + ").");
  }

  // A fit, finer than the bench's errors.
  std::string Spare(double mm) const {
    return job_.inches ? Text(mm / kMmPerInch, 4) + " in" : Text(mm, 3) + " mm";
  }

  std::string How(const PressFit& fit, double given) const {
    if (!std::isnan(given)) return "as the job has it: try it in scrap first.";
    std::string how = fit.how;
    how.replace(how.find("{}"), 2, Spare(std::abs(fit.interference_mm)));
    return how + " (" + Describe(fit.source) + ").";
  }

  // [mm] An eye's width less this is left for a screw's head in a strip of plate.
  static constexpr double kBesideHead_mm = 1.0;

  const Job& job_;
  const HardwareWish& wish_;
  PlateWish plates_;
  std::vector<std::string>& faults_;
  double thinnest_ = std::numeric_limits<double>::infinity();
};

}  // namespace

std::string Describe(const Source& source) {
  switch (source.standing) {
    case Standing::kStandard:
      return "standard: " + source.where;
    case Standing::kHandbook:
      return "handbook: " + source.where;
    case Standing::kGiven:
      return "as the job has it: " + source.where;
    case Standing::kCommonPractice:
      break;
  }
  return "common practice: " + source.where;
}

std::string BenchLength(double mm, bool inch) {
  return BenchText(mm, Bench::kHole, inch);
}

std::optional<Fit> IsoFit(double nominal_mm, const std::string& hole, const std::string& shaft) {
  const auto h = IsoLimits(nominal_mm, hole), s = IsoLimits(nominal_mm, shaft);
  if (!h || !s) return std::nullopt;
  return Fit{h->lower_um - s->upper_um, h->upper_um - s->lower_um};
}

double SpacerOutside_mm(const Job& job) {
  if (!std::isnan(job.hardware.spacer_mm)) return job.hardware.spacer_mm;
  // Of brass rod as dealers keep it, bored; in 32nds of an inch.
  static const std::vector<double> kRods_mm{4, 5, 6, 7, 8, 10, 12}, kRods_32nds{4, 5, 6, 8, 10, 12};
  const double least = job.arms.bushing_mm + SpacerOver_mm(job.inches);
  for (const double rod : job.inches ? kRods_32nds : kRods_mm) {
    const double outside = job.inches ? rod * kMmPerInch / 32.0 : rod;
    if (outside >= least - kSamePoint_mm) return outside;
  }
  return least;
}

double PinDiameter_mm(const Job& job) {
  if (!std::isnan(job.hardware.pin_mm)) return job.hardware.pin_mm;
  if (!std::isnan(job.hardware.bore_mm)) return RodFor(job.hardware.bore_mm, job.inches);
  const Tube* tube = FindTube(job.arms.bushing_mm, job.inches);
  return tube ? tube->pin_mm : job.arms.bushing_mm;
}

PlateWish PlatesOf(const Job& job) {
  PlateWish plates = job.plates;
  const auto set = [](double& value, double to) {
    if (std::isnan(value)) value = to;
  };
  // Packing and lid plate together stay within the six millimetres that the arms leave them; in
  // metric both come from one sheet.
  set(plates.case_mm, job.inches ? 3.0 / 32.0 * kMmPerInch : 2.0);
  set(plates.lid_mm, job.inches ? 3.0 / 32.0 * kMmPerInch : 3.0);
  double packing = job.inches ? 1.0 / 8.0 * kMmPerInch : 3.0;
  if (plates.on_case) {
    for (const double sheet : SheetSizes_mm(job.inches)) {
      if (packing < plates.case_mm + kPlatesApart_mm) packing = std::max(packing, sheet);
    }
    packing = std::max(packing, plates.case_mm + kPlatesApart_mm);
  }
  set(plates.packing_mm, packing);
  if (plates.material.empty()) {
    plates.material = IsMetal(job.arms.material) ? job.arms.material : "aluminium";
  }
  return plates;
}

std::optional<Hardware> ChooseHardware(const Job& job, std::vector<std::string>* faults) {
  return Chooser(job, faults).Choose();
}

bool ScrewsHeldByWalls(const Job& job) {
  std::vector<std::string> faults;
  return Chooser(job, &faults).ScrewsHeld();
}

Problems FaultsOfHardware(const Job& job) {
  const HardwareWish& h = job.hardware;
  const PlateWish& p = job.plates;
  Problems problems;
  bool given = !h.screw.empty() || !p.material.empty();
  for (const double size :
       {h.pin_mm, h.bore_mm, h.arm_press_mm, h.pin_press_mm, h.spacer_mm, h.washer_mm,
        h.washer_thickness_mm, h.screw_length_mm, p.case_mm, p.lid_mm, p.packing_mm}) {
    given = given || !std::isnan(size);
  }
  if (!given) return problems;
  std::vector<std::string> faults;
  ChooseHardware(job, &faults);
  for (const std::string& fault : faults) problems.push_back({"", 0, "hardware", "", fault, ""});
  return problems;
}

Problems FaultsBeforeWork(const Job& job, const Solid& solid) {
  Problems faults = FaultsOf(job, solid);
  const Problems hardware = FaultsOfHardware(job);
  faults.insert(faults.end(), hardware.begin(), hardware.end());
  return faults;
}

}  // namespace lidwright
