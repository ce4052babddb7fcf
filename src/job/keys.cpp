// SPDX-License-Identifier: Apache-2.0
#include "job/keys.h"

#include <algorithm>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"

namespace lidwright {

std::string Key::Parent() const {
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
}

std::string Key::Name() const {
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? path : path.substr(dot + 1);
}

void KeepEarlierNames(std::initializer_list<RenamedKey> renamed, std::vector<Key>* keys) {
  for (const RenamedKey& name : renamed) {
    const auto key =
        std::find_if(keys->begin(), keys->end(), [&](const Key& k) { return k.path == name.path; });
    LW_REQUIRE(key != keys->end(), "no key " << name.path);
    key->earlier = name.earlier;
  }
}

Default Preset(double value, Kind kind) {
  std::string text = Text(value);
  if (kind == Kind::kLength && value != 0.0) text += " mm";
  if (kind == Kind::kFlag) text = value != 0.0 ? "true" : "false";
  return {false, text, [value] { return value; }};
}

}  // namespace lidwright
