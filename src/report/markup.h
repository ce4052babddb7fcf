// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace lidwright {

/// Text as it stands between tags or in a quoted attribute.
std::string Escaped(const std::string& text);

/// The same for sentences: minus signs, degrees and cubes as they are printed, and numbers kept on
/// one line with their units.
std::string Prose(const std::string& text);

/// JSON as it may stand in a script element: nothing in it can end the element.
std::string InScript(std::string json);

/// <tag attributes>content</tag>; the content is markup already.
std::string Element(const std::string& tag, const std::string& attributes,
                    const std::string& content);

/// A part of the page with its heading; `id` names both.
std::string Section(const std::string& id, const std::string& heading, const std::string& content);

}  // namespace lidwright
