// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/length_text.h"

namespace lidwright {
namespace {

std::string Marked(std::string text, bool inches) {
  return inches && text != "-" ? text + "\"" : text;
}

}  // namespace

std::string LengthText(double mm, bool inches, Bench kind) {
  return Marked(WithMinus(BenchNumber(mm, kind, inches)), inches);
}

std::string PlaceText(double mm, bool inches) {
  return WithMinus(BenchPlace(mm, inches));
}

std::string GapText(const Verdict& verdict, bool with_unit, bool inches) {
  const double found = verdict.found.value_or(kUnset), asked = verdict.required.value_or(kUnset);
  const std::string text =
      WithMinus(verdict.at_most ? BenchRoom(found, asked, inches) : BenchGap(found, asked, inches));
  return with_unit && !inches ? text : Marked(text.substr(0, text.find(' ')), inches);
}

std::string RoomText(double needed_mm, double there_is_mm, bool inches) {
  const std::string text = WithMinus(BenchRoom(needed_mm, there_is_mm, inches));
  return Marked(text.substr(0, text.find(' ')), inches);
}

}  // namespace lidwright
