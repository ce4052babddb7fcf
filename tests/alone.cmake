# SPDX-License-Identifier: Apache-2.0
# Tests that are always compiled alone, as src/alone.cmake has it.
lidwright_stand_alone(tests
    accuracy/missed_builds_test accuracy/shut_lid_test app/trace_command_test arms/hinge_set_test
    forces/fixing_holds_test forces/soft_shut_test forces/stop_loads_test job/job_problems_test
    job/job_text_test job/read_job_test job/read_pivots_test job/stations_test
    linkage/four_bar_laws_test linkage/four_bar_test linkage/mobility_test report/remarks_test
    report/summary_test synthesis/dyads_test synthesis/fixed_pivot_path_test synthesis/lid_task_test
    trace/trace_svg_test trace/unite_pieces_test)
