# SPDX-License-Identifier: Apache-2.0
# Drawings are read back by other programs: Python's expat, librsvg and poppler (librsvg2-bin,
# poppler-utils), and compared pixel by pixel with numpy (python3-numpy), all of Debian.
add_executable(write_drawing_samples ${CMAKE_CURRENT_LIST_DIR}/write_samples.cpp)
target_link_libraries(write_drawing_samples PRIVATE lidwright_places lidwright_drawing)
add_test(NAME drawings_read_back
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/read_back.py
                 $<TARGET_FILE:write_drawing_samples>)

# The bench's sheets are measured on paper: page sizes by pdfinfo, bars and holes by the ink that
# poppler puts.
add_executable(write_bench_samples ${CMAKE_CURRENT_LIST_DIR}/write_bench_samples.cpp)
target_include_directories(write_bench_samples PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(write_bench_samples PRIVATE lidwright_places lidwright_drawing)
add_test(NAME bench_sheets_read_back
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/read_bench_sheets.py
                 $<TARGET_FILE:write_bench_samples>)
