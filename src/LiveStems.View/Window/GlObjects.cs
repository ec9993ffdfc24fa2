namespace LiveStems.View.Window;

/// <summary>How many OpenGL objects of ours there are: flat while a window runs, none when it is closed.</summary>
internal static class GlObjects
{
    private static int count;

    /// <summary>Programs, textures, vertex arrays and framebuffers that were made and not yet let go.</summary>
    public static int Count => Volatile.Read(ref count);

    public static void Made(int objects = 1) => Interlocked.Add(ref count, objects);

    public static void LetGo(int objects = 1) => Interlocked.Add(ref count, -objects);
}
