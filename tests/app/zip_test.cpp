// SPDX-License-Identifier: Apache-2.0
#include "app/zip.h"

#include <catch2/catch.hpp>
#include <string>

using namespace lidwright;

namespace {

// Bytes written as pairs of hexadecimal digits; blanks only part them.
std::string Bytes(const std::string& digits) {
  std::string bytes, pair;
  for (const char c : digits) {
    if (c != ' ') pair += c;
    if (pair.size() < 2) continue;
    bytes += static_cast<char>(std::stoi(pair, nullptr, 16));
    pair.clear();
  }
  return bytes;
}

}  // namespace

TEST_CASE("The check sum of a zip is CRC-32") {
  CHECK(Crc32("") == 0u);
  // MEM: the check value of CRC-32/ISO-HDLC, which catalogues of check sums give.
  CHECK(Crc32("123456789") == 0xcbf43926u);
}

TEST_CASE("An empty zip is its end alone") {
  // APPNOTE 4.3.16: a signature and 18 bytes.
  CHECK(ZipOf({}) == std::string("PK\x05\x06", 4) + std::string(18, '\0'));
}

TEST_CASE("A zip of two files has the bytes that its format asks for") {
  // MEM: PKWARE's APPNOTE 6.3, written out by hand; whole numbers have the least byte first. Of a
  // file: version 1.0, names in UTF-8, stored, midnight, 1980-01-01, check sum (of the first the
  // check value, of an empty file 0), size packed and not, length of name, no extra field.
  const std::string expected =
      // 4.3.7, header and contents: 30 + 7 + 9 = 46 bytes, then 30 + 3 = 33.
      Bytes("504b0304 0a00 0008 0000 0000 2100 2639f4cb 09000000 09000000 0700 0000") + "a/b.txt" +
      "123456789" +
      Bytes("504b0304 0a00 0008 0000 0000 2100 00000000 00000000 00000000 0300 0000") + "a/c" +
      // 4.3.12, the directory: made by version 1.0, the same, no remark, disk 0, no attributes
      // inside or outside, where the header begins: 46 + 7 = 53 bytes, then 46 + 3 = 49.
      Bytes("504b0102 0a00 0a00 0008 0000 0000 2100 2639f4cb 09000000 09000000 0700 0000") +
      Bytes("0000 0000 0000 00000000 00000000") + "a/b.txt" +
      Bytes("504b0102 0a00 0a00 0008 0000 0000 2100 00000000 00000000 00000000 0300 0000") +
      Bytes("0000 0000 0000 00000000 2e000000") + "a/c" +
      // 4.3.16, the end: disks 0 and 0, 2 files here and in all, the directory's 102 bytes from
      // 79 on, no remark.
      Bytes("504b0506 0000 0000 0200 0200 66000000 4f000000 0000");
  CHECK(ZipOf({{"a/c", ""}, {"a/b.txt", "123456789"}}) == expected);
}
