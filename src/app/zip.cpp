// SPDX-License-Identifier: Apache-2.0
#include "zip.h"

#include <array>

namespace lidwright {
namespace {

constexpr std::uint16_t kVersionStored = 10;  // 1.0: nothing that later versions brought
constexpr std::uint16_t kNamesAreUtf8 = 1u << 11;
constexpr std::uint16_t kFirstDay = 1u << 5 | 1u;  // 1980-01-01: month and day; midnight is 0

// Whole numbers with the least byte first.
void Put2(std::uint32_t value, std::string* out) {
  for (int shift = 0; shift < 16; shift += 8) *out += static_cast<char>(value >> shift & 0xffu);
}
void Put4(std::uint32_t value, std::string* out) {
  for (int shift = 0; shift < 32; shift += 8) *out += static_cast<char>(value >> shift & 0xffu);
}

// What a file's own header and the directory say alike, from the version needed to the name's
// length; no extra field.
std::string Facts(const std::string& name, const std::string& bytes) {
  const std::uint32_t size = static_cast<std::uint32_t>(bytes.size());
  std::string facts;
  Put2(kVersionStored, &facts);
  Put2(kNamesAreUtf8, &facts);
  Put2(0, &facts);  // stored
  Put2(0, &facts);  // time
  Put2(kFirstDay, &facts);
  Put4(Crc32(bytes), &facts);
  Put4(size, &facts);
  Put4(size, &facts);
  Put2(static_cast<std::uint32_t>(name.size()), &facts);
  Put2(0, &facts);
  return facts;
}

}  // namespace

std::uint32_t Crc32(const std::string& bytes) {
  static const std::array<std::uint32_t, 256> kTable = [] {
    std::array<std::uint32_t, 256> table{};
    for (std::uint32_t i = 0; i < 256; ++i) {
      std::uint32_t rest = i;
      for (int bit = 0; bit < 8; ++bit) rest = rest >> 1 ^ (rest & 1u ? 0xedb88320u : 0u);
      table[i] = rest;
    }
    return table;
  }();
  std::uint32_t rest = 0xffffffffu;
  for (const char c : bytes)
    rest = rest >> 8 ^ kTable[(rest ^ static_cast<unsigned char>(c)) & 0xffu];
  return ~rest;
}

std::string ZipOf(const FolderContents& contents) {
  std::string zip, directory;
  for (const auto& [name, bytes] : contents) {
    const std::string facts = Facts(name, bytes);
    Put4(0x02014b50u, &directory);
    Put2(kVersionStored, &directory);  // made by
    directory += facts;
    Put2(0, &directory);  // no remark
    Put2(0, &directory);  // the only disk
    Put2(0, &directory);
    Put4(0, &directory);  // no attributes
    Put4(static_cast<std::uint32_t>(zip.size()), &directory);
    directory += name;
    Put4(0x04034b50u, &zip);
    zip += facts + name + bytes;
  }
  const std::uint32_t begins = static_cast<std::uint32_t>(zip.size());
  const std::uint32_t count = static_cast<std::uint32_t>(contents.size());
  zip += directory;
  Put4(0x06054b50u, &zip);
  Put2(0, &zip);
  Put2(0, &zip);
  Put2(count, &zip);
  Put2(count, &zip);
  Put4(static_cast<std::uint32_t>(directory.size()), &zip);
  Put4(begins, &zip);
  Put2(0, &zip);
  return zip;
}

}  // namespace lidwright
