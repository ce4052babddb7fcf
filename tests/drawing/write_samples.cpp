// SPDX-License-Identifier: Apache-2.0
// Writes the drawings of every example into the folder named on the command line, to be read back
// by other programs.
#include <cstdio>
#include <fstream>
#include <string>

#include "lidwright/design/make_design.h"
#include "lidwright/drawing/arm_sheet.h"
#include "lidwright/drawing/arrangement.h"
#include "lidwright/drawing/box_drawing.h"
#include "lidwright/drawing/charts.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/drawing/swing_frames.h"
#include "made_up_design.h"

int main(int argc, char** argv) {
  using namespace lidwright;
  if (argc != 2) {
    std::fprintf(stderr, "usage: write_samples FOLDER\n");
    return 2;
  }
  const std::string folder = argv[1];
  bool written = true;
  const auto write = [&](const std::string& name, const std::string& bytes) {
    std::ofstream file(folder + "/" + name, std::ios::binary);
    file << bytes;
    written = static_cast<bool>(file.flush()) && written;
  };
  for (const testing::Example& example : testing::Examples()) {
    const Design design = testing::MakeDesign(example);
    const Hinge& hinge = design.hinges[0];
    const auto both = [&](const std::string& name, const Canvas& canvas) {
      write(name + "-" + example.name + ".svg", canvas.Svg());
      write(name + "-" + example.name + ".pdf", canvas.Pdf());
    };
    both("box", BoxDrawing(design.job, design.solid));
    both("overlay", Overlay(design, hinge));
    both("arrangement", Arrangement(design, hinge));
    both("arms", ArmSheet(design, hinge));
    SwingFrameOptions options;
    options.count = 4;
    int number = 0;
    for (const Canvas& canvas : SwingFrameCanvases(design, hinge, options)) {
      both("frame" + std::to_string(number++), canvas);
    }
  }
  // Charts need a hinge whose forces are known: one that was searched for.
  for (const char* name : {"sample_chest", "jewellery_casket"}) {
    DesignOptions options;
    options.improve = false;  // any hinge does
    const Design design = lidwright::MakeDesign(BoxModel(testing::ReadExample(name)), options);
    if (design.hinges.empty()) return 1;
    const Canvas charts = Charts(design, design.hinges[0]);
    write(std::string("charts-") + name + ".svg", charts.Svg());
    write(std::string("charts-") + name + ".pdf", charts.Pdf());
  }
  return written ? 0 : 1;
}
