using Silk.NET.OpenGL;

namespace LiveStems.View.Window;

/// <summary>
/// How long the graphics processor works on a picture, by timer queries (OpenGL 3.3 core, section 2.14: TIME_ELAPSED). A
/// result is taken when it has come, some pictures later; nothing waits for it.
/// </summary>
internal sealed class GpuTimer : IDisposable
{
    private const int Queries = 6;
    private const double SecondsPerTick = 1e-9;

    private readonly GL gl;
    private readonly uint[] queries = new uint[Queries];
    private long begun;
    private long taken;

    public GpuTimer(GL gl)
    {
        this.gl = gl;
        gl.GenQueries(Queries, queries);
        GlObjects.Made(Queries);
    }

    /// <summary>Times of pictures in seconds.</summary>
    public FrameTimes Times { get; } = new();

    /// <summary>The picture begins; false when too many are still on their way.</summary>
    public bool Begin()
    {
        Take();
        if (begun - taken >= Queries)
        {
            return false;
        }

        gl.BeginQuery(QueryTarget.TimeElapsed, queries[begun % Queries]);
        return true;
    }

    /// <summary>All that belongs to the picture has been asked for.</summary>
    public void End()
    {
        gl.EndQuery(QueryTarget.TimeElapsed);
        begun++;
    }

    public void Dispose()
    {
        gl.DeleteQueries(Queries, queries);
        GlObjects.LetGo(Queries);
    }

    private void Take()
    {
        while (taken < begun)
        {
            uint query = queries[taken % Queries];
            gl.GetQueryObject(query, QueryObjectParameterName.ResultAvailable, out int isThere);
            if (isThere == 0)
            {
                return;
            }

            gl.GetQueryObject(query, QueryObjectParameterName.Result, out ulong nanoseconds);
            Times.Add(taken++, nanoseconds * SecondsPerTick);
        }
    }
}
