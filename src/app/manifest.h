// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>

// What lidwright remembers of the files it wrote, to know them again.
namespace lidwright {

/// By which a file is known to be as it was. Against slips, not against who wants to deceive.
struct FileSum {
  std::uint64_t fnv = 0xcbf29ce484222325;  ///< FNV-1a of 64 bits over all bytes
  std::uint64_t bytes = 0;
  bool operator==(const FileSum&) const = default;
};

/// The sum of `text`, or of what `before` is the sum of and `text` behind it.
FileSum SumOf(std::string_view text, FileSum before = {});

/// "cbf29ce484222325 0": 16 digits of the check sum and the bytes.
std::string SumText(const FileSum& sum);

/// The opposite; nothing if it is none.
std::optional<FileSum> ReadSum(const std::string& text);

/// Every file lidwright wrote into a folder, by its path within it; not the manifest itself.
using Manifest = std::map<std::string, FileSum>;

std::string ManifestText(const Manifest& manifest);

/// Nothing if it is no manifest to the last line, or names a file outside of its folder.
std::optional<Manifest> ReadManifest(const std::string& text);

/// Whether a path stays within its folder: no "..", no "/" at its beginning, nothing empty and no
/// control character in it.
bool StaysWithin(const std::string& name);

/// `text` with a last line that holds its sum: a comment in SVG and in PDF, by `file`'s ending.
std::string Sealed(const std::string& text, const std::string& file);

/// Whether a text is one that Sealed made, and is as it was.
bool IsSealed(const std::string& text);

}  // namespace lidwright
