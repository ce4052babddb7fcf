// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string>

#include "lidwright/app/output_folder.h"

namespace lidwright {

/// CRC-32 as zip files have it: polynomial 0x04C11DB7 reflected, begun and ended with all ones.
std::uint32_t Crc32(const std::string& bytes);

/// The contents as the bytes of a zip file, stored without being packed, names in UTF-8, dated
/// 1980-01-01. Same contents, same bytes. Requires less than 4 GiB in all and at most 65535 files.
/// Source: PKWARE's APPNOTE 6.3, sections 4.3.7, 4.3.12, 4.3.16.
std::string ZipOf(const FolderContents& contents);

}  // namespace lidwright
