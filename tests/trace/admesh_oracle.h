// SPDX-License-Identifier: Apache-2.0
// Another program's view of an STL file: the ADMesh library.
#pragma once

#include <admesh/stl.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <string>

struct AdmeshView {
  int facets = 0;
  int open_facets = 0;  ///< with an edge that nothing adjoins, corners compared exactly
  double volume = 0.0;
};

inline AdmeshView AdmeshViewOf(const std::string& bytes) {
  const std::string path = (std::filesystem::temp_directory_path() /
                            ("lidwright_" + std::to_string(::getpid()) + ".stl"))
                               .string();
  std::ofstream(path, std::ios::binary) << bytes;
  stl_file stl;
  std::string name = path;
  stl_open(&stl, name.data());
  REQUIRE(!stl_get_error(&stl));
  stl_check_facets_exact(&stl);
  AdmeshView view;
  view.facets = stl.stats.number_of_facets;
  view.open_facets = stl.stats.number_of_facets - stl.stats.connected_facets_3_edge;
  stl_fix_normal_values(&stl);  // the volume is worked out with the facets' normals
  stl_calculate_volume(&stl);
  view.volume = static_cast<double>(stl.stats.volume);
  stl_close(&stl);
  std::filesystem::remove(path);
  return view;
}
