# SPDX-License-Identifier: Apache-2.0
# Sources that are always compiled alone, by folder: in their unnamed namespace stands a name that
# another source of the folder has as well.
function(lidwright_stand_alone folder)
  foreach(source IN LISTS ARGN)
    set_source_files_properties(${CMAKE_SOURCE_DIR}/${folder}/${source}.cpp
                                PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
  endforeach()
endfunction()

set(alone_in_job outlines written_value)
set(alone_in_solid hollow_curve section solid)
set(alone_in_trace mesh_mend sort_loops)
set(alone_in_swing quick_outcome)
set(alone_in_synthesis lid_grid lid_space lid_task quick_judge)
set(alone_in_arms pad plates plates_case plates_lid shape_arms shop_sheets stay stop straight_pins)
set(alone_in_forces leaning lift_curve load_case plate_legs screws spring_size statics)
set(alone_in_accuracy shut_lid)
set(alone_in_design sized_design)
set(alone_in_drawing
    booklet booklet_page box_drawing charts dimensions exploded full_size jig_sheet list_sheet nest_sheet
    overlay paper_trial plate_sheet sheet stack_sheet step_picture svg swing_scene tiles)
set(alone_in_report hinge_json page_bench page_proofs page_swing summary verdict_words)
set(alone_in_app completion mockup_server output_folder replacement)
