// SPDX-License-Identifier: Apache-2.0
#include "app/zip.h"

#include <catch2/catch.hpp>

using namespace lidwright;

TEST_CASE("The check sum of a zip is CRC-32") {
  CHECK(Crc32("") == 0u);
  // MEM: the check value of CRC-32/ISO-HDLC, which catalogues of check sums give.
  CHECK(Crc32("123456789") == 0xcbf43926u);
}

TEST_CASE("An empty zip is its end alone, and the same contents give the same bytes") {
  // APPNOTE 4.3.16: a signature and 18 bytes.
  CHECK(ZipOf({}) == std::string("PK\x05\x06", 4) + std::string(18, '\0'));
  const FolderContents contents{{"b.txt", "two"}, {"a/b.svg", "one"}};
  CHECK(ZipOf(contents) == ZipOf(contents));
}
