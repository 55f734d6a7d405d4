"""Three-dimensional files of cap, form, stone and flues: GLB for looking, STL for cutting and printing."""
