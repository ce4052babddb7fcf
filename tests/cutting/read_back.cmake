# SPDX-License-Identifier: Apache-2.0
# Cut files are read back by other programs' readers: ezdxf, svgelements and librsvg, all of Debian
# (python3-ezdxf, python3-svgelements, python3-numpy, librsvg2-bin).
add_executable(write_cut_samples ${CMAKE_CURRENT_LIST_DIR}/write_samples.cpp)
target_link_libraries(write_cut_samples PRIVATE lidwright_places lidwright_cutting)
target_include_directories(write_cut_samples PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
add_test(NAME cut_files_read_back
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/read_back.py
                 $<TARGET_FILE:write_cut_samples>)
